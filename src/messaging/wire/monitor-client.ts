import { randomUUID } from 'node:crypto';
import { connect, type MqttClient } from 'mqtt';
import { type Status, statusSchema } from '../../../shared/facts/status.js';
import { type Answer, answerSchema, type Command } from '../../../shared/wire/command.js';
import { type FarmTopics, farmTopics } from '../../../shared/wire/topics.js';
import { type ReachOptions, reachClientOptions } from './client-options.js';
import { linkTrouble } from './link-trouble.js';
import { errorCode, MessagingError } from './messaging-error.js';

/** Retained messages come right after the subscription; this long without one means that was all. */
const QUIET_MS = 250;
/** A busy broker takes its time before the first of them; only where there is no farm at all does anybody wait this long. */
const FIRST_STATUS_MS = 3_000;
const DEFAULT_PATIENCE_MS = 10_000;

export interface Heard {
  readonly topic: string;
  readonly text: string;
  readonly retained: boolean;
}

const START_IT =
  'start the monitor with "drybell run", or name its broker with --broker (the demo prints its own)';

/** Why nobody is reached, and what to do: at the monitor's own broker nobody else can be missing than the monitor. */
function notReached(cause: unknown, { address, isMonitorsOwn }: ReachOptions): string {
  if (isMonitorsOwn === true && errorCode(cause) === 'ECONNREFUSED')
    return `No monitor answers at ${address}: ${START_IT}.`;
  const trouble = linkTrouble(cause, address);
  return `${trouble.charAt(0).toUpperCase()}${trouble.slice(1)}.${isMonitorsOwn === false ? '' : ` If it is the monitor's own: ${START_IT}.`}`;
}

async function connected(options: ReachOptions): Promise<MqttClient> {
  const { address, patienceMs = DEFAULT_PATIENCE_MS } = options;
  const client = connect(address, {
    ...reachClientOptions(options),
    reconnectPeriod: 0,
    connectTimeout: patienceMs,
  });
  try {
    await new Promise<void>((resolve, reject) => {
      client.once('connect', () => resolve());
      client.once('error', reject);
      client.once('close', () => reject(new Error('it hung up')));
    });
  } catch (cause) {
    await client.endAsync(true);
    throw new MessagingError('no-monitor', notReached(cause, options), { cause });
  }
  client.on('error', () => client.end(true));
  return client;
}

/** A short visit to a monitor by its broker: commands with answers, what is retained, what is said. */
export class MonitorClient {
  readonly farm: string;
  readonly status: Status;
  readonly topics: FarmTopics;
  readonly #client: MqttClient;
  readonly #patienceMs: number;

  private constructor(client: MqttClient, farm: string, status: Status, patienceMs: number) {
    this.#client = client;
    this.farm = farm;
    this.status = status;
    this.topics = farmTopics(farm);
    this.#patienceMs = patienceMs;
  }

  /** Connects and finds the farm. Rejects with a MessagingError that says what to do. */
  static async reach(options: ReachOptions): Promise<MonitorClient> {
    const client = await connected(options);
    try {
      const statuses = await retainedOf(client, farmTopics(options.farm ?? '+').status, FIRST_STATUS_MS);
      const farms = new Map(statuses.map(({ topic, text }) => [topic.split('/')[1] ?? '', text]));
      const [first] = farms;
      const where = `The broker ${options.address}`;
      if (first === undefined)
        throw new MessagingError(
          'no-monitor',
          `${where} answers, but knows no farm${options.farm === undefined ? '' : ` "${options.farm}"`}: ${START_IT}`,
        );
      if (farms.size > 1)
        throw new MessagingError(
          'several-farms',
          `${where} knows the farms ${[...farms.keys()].join(', ')}: name one with --farm`,
        );
      const status = statusSchema.safeParse(JSON.parse(first[1]));
      if (!status.success)
        throw new MessagingError(
          'no-monitor',
          `${where} has a status of farm "${first[0]}" that is not Drybell's: name your farm with --farm, or see what else writes at this broker`,
        );
      return new MonitorClient(client, first[0], status.data, options.patienceMs ?? DEFAULT_PATIENCE_MS);
    } catch (cause) {
      await client.endAsync(true);
      throw cause;
    }
  }

  /** Sends a command and waits for the answer. Rejects with code no-monitor or no-answer (too late, or the connection ended). */
  async send(command: Command): Promise<Answer> {
    if (!this.status.online)
      throw new MessagingError(
        'no-monitor',
        `The monitor of ${this.farm} is not running; nothing was sent. Start it with "drybell run".`,
      );
    const ref = command.ref ?? `cli-${randomUUID().slice(0, 13)}`;
    const answered = this.#next(this.topics.reply(ref));
    await this.#client.subscribeAsync(this.topics.reply(ref), { qos: 1 });
    await this.#client.publishAsync(this.topics.commandRef(ref), JSON.stringify(command), { qos: 1 });
    let timer: NodeJS.Timeout | undefined;
    const tooLate = new Promise<never>((_, reject) => {
      timer = setTimeout(
        () =>
          reject(
            new MessagingError(
              'no-answer',
              `The monitor of ${this.farm} took the command (ref ${ref}) but did not answer within ${this.#patienceMs / 1000} s; it may still act on it. Look at its log, and whether the broker's rules let it write at ${this.topics.reply('+')}.`,
              { retryable: true },
            ),
          ),
        this.#patienceMs,
      );
    });
    const cut = this.ended().then(() => {
      throw new MessagingError(
        'no-answer',
        `The connection to the monitor ended before it answered (ref ${ref}); it may still act on it. Look whether the monitor still runs, and try again.`,
        { retryable: true },
      );
    });
    try {
      return answerSchema.parse(JSON.parse(await Promise.race([answered, cut, tooLate])));
    } finally {
      clearTimeout(timer);
    }
  }

  #next(topic: string): Promise<string> {
    return new Promise((resolve) => {
      const hear = (heardTopic: string, payload: Buffer) => {
        if (heardTopic !== topic) return;
        this.#client.off('message', hear);
        resolve(payload.toString());
      };
      this.#client.on('message', hear);
    });
  }

  /** What the broker has retained at these topics of the farm. */
  retained(filter: string): Promise<readonly Heard[]> {
    return retainedOf(this.#client, filter);
  }

  /** Hears what is said from now on; resolves when the broker has granted it. */
  async hear(filters: readonly string[], hear: (message: Heard) => void): Promise<void> {
    this.#client.on('message', (topic, payload, packet) =>
      hear({ topic, text: payload.toString(), retained: packet.retain }),
    );
    await this.#client.subscribeAsync([...filters], { qos: 1 });
  }

  /** Hears what is said from now on, until the connection ends: then it resolves. */
  async listen(filters: readonly string[], hear: (message: Heard) => void): Promise<void> {
    const ended = this.ended();
    await this.hear(filters, hear);
    await ended;
  }

  /** Resolves when the connection ends, at once when it has ended. */
  ended(): Promise<void> {
    if (!this.#client.connected) return Promise.resolve();
    return new Promise((resolve) => this.#client.once('close', () => resolve()));
  }

  close(): Promise<void> {
    return this.#client.endAsync();
  }
}

/** Subscribes, takes the retained messages, the first of them within `firstMs`, and unsubscribes. A topic without wildcard has one at most. */
async function retainedOf(client: MqttClient, filter: string, firstMs = QUIET_MS): Promise<readonly Heard[]> {
  const found: Heard[] = [];
  const isOneTopic = !/[+#]/.test(filter);
  let settle: () => void = () => undefined;
  let timer: NodeJS.Timeout | undefined;
  const wait = (ms: number) => {
    clearTimeout(timer);
    timer = setTimeout(() => settle(), ms);
  };
  const hear = (topic: string, payload: Buffer, packet: { readonly retain: boolean }) => {
    if (!packet.retain) return;
    found.push({ topic, text: payload.toString(), retained: true });
    wait(isOneTopic ? 0 : QUIET_MS);
  };
  client.on('message', hear);
  const quiet = new Promise<void>((resolve) => {
    settle = resolve;
  });
  await client.subscribeAsync(filter, { qos: 1 });
  wait(firstMs);
  await quiet;
  client.off('message', hear);
  await client.unsubscribeAsync(filter);
  return found;
}
