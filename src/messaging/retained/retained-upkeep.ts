import type { IPublishPacket, MqttClient } from 'mqtt';
import type { FarmTopics } from '../../../shared/wire/topics.js';

/** Retained messages come right after the subscription; this long without one means that was all. */
const QUIET_MS = 300;
/** A broker that has not handed our own status back by now withholds it. */
const ECHO_PATIENCE_MS = 5_000;

export interface UpkeepOptions {
  readonly topics: FarmTopics;
  /** What the broker should keep, by topic. */
  readonly wanted: () => ReadonlyMap<string, string>;
  /** Topics that a waiting message will set anyway. */
  readonly onTheirWay: () => ReadonlySet<string>;
  /** True: alarms and notice are heard on after the look, by who wants to know whether they come back. */
  readonly staysSubscribed: boolean;
  readonly onDone: (repaired: number) => void;
  /** Our own messages do not come back: the broker's rules withhold them. */
  readonly onWithheld: () => void;
}

/** What must be told again so that the broker keeps what it should; an empty payload clears. */
export function repairs(
  wanted: ReadonlyMap<string, string>,
  seen: ReadonlyMap<string, string>,
  onTheirWay: ReadonlySet<string>,
): ReadonlyMap<string, string> {
  const result = new Map<string, string>();
  for (const [topic, payload] of wanted)
    if (seen.get(topic) !== payload && !onTheirWay.has(topic)) result.set(topic, payload);
  for (const topic of seen.keys()) if (!wanted.has(topic) && !onTheirWay.has(topic)) result.set(topic, '');
  return result;
}

/**
 * After each connect: looks at what the broker has retained of our alarms and notice, and tells again only what is
 * missing or stale. A broker that kept its memory hears nothing twice, one that lost it is whole again.
 */
export class RetainedUpkeep {
  readonly #options: UpkeepOptions;
  #seen = new Map<string, string>();
  #client: MqttClient | undefined;
  #echoed = false;
  #timer: NodeJS.Timeout | undefined;

  constructor(options: UpkeepOptions) {
    this.#options = options;
  }

  get #filters(): string[] {
    const { topics } = this.#options;
    return [`${topics.root}/alarm/+/+`, topics.round, topics.status];
  }

  start(client: MqttClient): void {
    this.#client = client;
    this.#seen = new Map();
    this.#echoed = false;
    this.#timer = setTimeout(() => {
      this.#finish(client);
      this.#options.onWithheld();
    }, ECHO_PATIENCE_MS);
    client.subscribe(this.#filters, { qos: 1 });
  }

  stop(): void {
    clearTimeout(this.#timer);
    this.#client = undefined;
  }

  /** Takes a message that is ours; false: it is something else. */
  take(packet: IPublishPacket, ownStatus: string | undefined): boolean {
    const { topics } = this.#options;
    const payload = packet.payload.toString();
    if (packet.topic === topics.status) {
      if (payload === ownStatus && !this.#echoed) {
        this.#echoed = true;
        this.#waitForQuiet();
      }
      return true;
    }
    if (packet.topic !== topics.round && !packet.topic.startsWith(`${topics.root}/alarm/`)) return false;
    if (this.#client !== undefined) {
      this.#seen.set(packet.topic, payload);
      if (this.#echoed) this.#waitForQuiet();
    }
    return true;
  }

  #waitForQuiet(): void {
    const client = this.#client;
    if (client === undefined) return;
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#compare(client), QUIET_MS);
  }

  #compare(client: MqttClient): void {
    const { wanted, onTheirWay, onDone } = this.#options;
    const missing = repairs(wanted(), this.#seen, onTheirWay());
    for (const [topic, payload] of missing) client.publish(topic, payload, { qos: 1, retain: true });
    this.#finish(client);
    onDone(missing.size);
  }

  #finish(client: MqttClient): void {
    clearTimeout(this.#timer);
    const { staysSubscribed, topics } = this.#options;
    if (this.#client === client) client.unsubscribe(staysSubscribed ? topics.status : this.#filters);
    this.#client = undefined;
  }
}
