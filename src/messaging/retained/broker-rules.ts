import type { IPublishPacket, MqttClient } from 'mqtt';
import type { FarmTopics } from '../../../shared/wire/topics.js';
import type { MessagingTrouble } from '../wire/messaging-health.js';
import type { MessagingLog } from '../wire/messaging-log.js';
import { type Awaited, Echo } from './echo.js';
import { TwinWatch } from './twin-watch.js';

/** SUBACK return code for a refused subscription, MQTT 3.1.1 §3.9.3. */
const SUBSCRIPTION_REFUSED = 128;

export interface BrokerRulesOptions {
  readonly farm: string;
  readonly topics: FarmTopics;
  readonly address: string;
  /** True for a broker elsewhere; the own one has no rules but ours, and lets nobody else in as the monitor. */
  readonly elsewhere: boolean;
  readonly monotonicMs: () => number;
  readonly log: MessagingLog;
  /** How long a message may take to come back, for tests. */
  readonly echoPatienceMs?: number | undefined;
}

/** What a broker does not say of itself: whether its rules let our words through, and whether another monitor pushes us out. */
export class BrokerRules {
  readonly #options: BrokerRulesOptions;
  readonly #echo: Echo;
  readonly #twin: TwinWatch;
  /** Topics that the broker acknowledged and did not hand on, by the kind they stand for: one that comes back speaks for its kind. */
  readonly #mute = new Map<string, string>();
  #statusWithheld = false;
  #commandsRefused = false;
  #said: readonly string[] = [];

  constructor(options: BrokerRulesOptions) {
    this.#options = options;
    this.#echo = new Echo(options.echoPatienceMs);
    this.#twin = new TwinWatch(options.monotonicMs);
  }

  /** Subscribes to commands, and to what people rely on hearing; alarms and the notice are `RetainedUpkeep`'s. */
  up(client: MqttClient): void {
    const { topics, elsewhere } = this.#options;
    this.#twin.up();
    client.subscribe([topics.command, topics.commandRef('+')], { qos: 1 }, (error, grants) => {
      if (!client.connected) return;
      const refused = (grants ?? []).some((grant) => Number(grant.qos) >= SUBSCRIPTION_REFUSED);
      this.#commandsRefused = (error ?? undefined) !== undefined || refused;
      this.#logNews();
    });
    if (!elsewhere) return;
    const heard = [topics.say, topics.call, topics.ask, topics.testCall, topics.reply('+')];
    client.subscribe(heard, { qos: 1 });
  }

  down(): void {
    this.#twin.down();
    this.#echo.stop();
  }

  /** Our status did (not) come back after the connection was made. */
  noteStatus(cameBack: boolean): void {
    this.#statusWithheld = !cameBack;
    this.#logNews();
  }

  /** A message goes out; undefined: nobody listens whether it comes back. `outcome` is told at most once. */
  sent(topic: string, outcome?: (cameBack: boolean) => void): Awaited | undefined {
    if (!this.#isHeard(topic)) return undefined;
    const awaited: Awaited = {
      topic,
      tell: (cameBack) => {
        if (cameBack) this.#mute.delete(this.#kindOf(topic));
        else this.#mute.set(this.#kindOf(topic), topic);
        outcome?.(cameBack);
        this.#logNews();
      },
    };
    this.#echo.sent(awaited);
    return awaited;
  }

  acknowledged(awaited: Awaited): void {
    this.#echo.acknowledged(awaited);
  }

  /** Anything that comes in while we are connected. */
  take(packet: IPublishPacket, ownStatus: string | undefined): void {
    if (!this.#options.elsewhere) return;
    if (!packet.retain) this.#echo.heard(packet.topic);
    else if (packet.topic === this.#options.topics.status) {
      this.#twin.found(packet.payload.toString(), ownStatus);
      this.#logNews();
    }
  }

  /**
   * What is wrong with the broker, what explains most first.
   * @param away why there is no connection; undefined: there is one
   */
  troubles(away?: string): readonly MessagingTrouble[] {
    return [
      { code: 'twin', sentence: this.#twinSentence() },
      { code: 'away', sentence: away },
      ...this.#ruleSentences().map((sentence) => ({ code: 'withheld' as const, sentence })),
    ];
  }

  #kindOf(topic: string): string {
    return topic.slice(this.#options.topics.root.length + 1).split('/')[0] ?? '';
  }

  #isHeard(topic: string): boolean {
    const heard = new Set(['say', 'call', 'ask', 'test-call', 'reply', 'round', 'alarm']);
    return this.#options.elsewhere && heard.has(this.#kindOf(topic));
  }

  #twinSentence(): string | undefined {
    const { farm, address } = this.#options;
    return this.#twin.hasTwin
      ? `another monitor of farm "${farm}" is at the broker ${address} and each pushes the other out; stop one of them, or give it another farm name`
      : undefined;
  }

  #ruleSentences(): readonly string[] {
    const { farm, address, topics } = this.#options;
    const allow = `allow this user to write and read drybell/${farm}/#`;
    const refused = this.#commandsRefused
      ? [
          `the broker ${address} refuses commands; allow this user to read ${topics.command} and ${topics.commandRef('+')}`,
        ]
      : [];
    if (this.#statusWithheld)
      return [`the broker ${address} takes messages but does not hand them on; ${allow}`, ...refused];
    const [mute] = this.#mute.values();
    return mute === undefined
      ? refused
      : [
          `the broker ${address} takes what is said at ${mute} but does not hand it on; ${allow}, then try drybell call --test`,
          ...refused,
        ];
  }

  /** Each word once, while it holds. */
  #logNews(): void {
    const { log } = this.#options;
    const holds = this.troubles().flatMap(({ sentence }) => sentence ?? []);
    for (const trouble of holds) if (!this.#said.includes(trouble)) log.warn({ trouble }, 'broker-withholds');
    this.#said = holds;
  }
}
