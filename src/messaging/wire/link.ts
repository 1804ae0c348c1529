import type { IPublishPacket, MqttClient } from 'mqtt';
import { isLoginRefused, linkTrouble } from './link-trouble.js';
import type { MessagingLog } from './messaging-log.js';

/** A refused login is not cured by hurry; a minute is soon enough after somebody mended the password. */
const LOGIN_REFUSED_WAIT_MS = 60_000;
/** A link that held this long starts its back-off afresh. */
const HELD_MS = 10_000;
const FORCED_END_MS = 2_000;

export interface LinkOptions {
  /** Starts one attempt; the client must not reconnect by itself. */
  readonly open: () => MqttClient;
  /** Address for people, without secrets. */
  readonly address: string;
  /** Fresh delays between attempts, milliseconds. */
  readonly delays: () => Generator<number, never, undefined>;
  readonly monotonicMs: () => number;
  readonly onUp: (client: MqttClient) => void;
  readonly onDown: () => void;
  /** The acknowledgement goes out when `done` is called. */
  readonly onMessage: (packet: IPublishPacket, done: () => void) => void;
  readonly log: MessagingLog;
}

/**
 * One connection that is kept: a new client for every attempt, so that nothing waits in a queue that dies with the
 * process, and nothing is sent behind the outbox's back.
 */
export class Link {
  readonly #options: LinkOptions;
  #delays: Generator<number, never, undefined>;
  #client: MqttClient | undefined;
  #timer: NodeJS.Timeout | undefined;
  #trouble: string | undefined;
  #closed = false;
  #up = false;
  #upSinceMs = 0;

  constructor(options: LinkOptions) {
    this.#options = options;
    this.#delays = options.delays();
    this.#trouble = `the broker ${options.address} is not connected yet`;
    this.#attempt();
  }

  /** Why it is down, and what to do; undefined when up. */
  get trouble(): string | undefined {
    return this.#trouble;
  }

  #attempt(): void {
    const { open, onUp, onMessage, log, address } = this.#options;
    const client = open();
    let failure: unknown;
    this.#client = client;
    client.handleMessage = (packet, done) => onMessage(packet, () => done());
    client.on('connect', () => {
      if ('setNoDelay' in client.stream && typeof client.stream.setNoDelay === 'function')
        client.stream.setNoDelay(true);
      this.#up = true;
      this.#upSinceMs = this.#options.monotonicMs();
      this.#trouble = undefined;
      log.info({ address }, 'broker-connected');
      onUp(client);
    });
    client.on('error', (error) => {
      failure = error;
      client.end(true);
    });
    client.on('close', () => {
      if (this.#client === client) this.#lost(failure);
    });
  }

  #lost(failure: unknown): void {
    const { onDown, log, address } = this.#options;
    const wasUp = this.#up;
    this.#client = undefined;
    this.#up = false;
    if (wasUp) {
      onDown();
      if (this.#options.monotonicMs() - this.#upSinceMs > HELD_MS) this.#delays = this.#options.delays();
    }
    if (this.#closed) return;
    const trouble = linkTrouble(failure, address);
    if (trouble !== this.#trouble) log.warn({ address, trouble }, 'broker-away');
    this.#trouble = trouble;
    const waitMs = isLoginRefused(failure) ? LOGIN_REFUSED_WAIT_MS : this.#delays.next().value;
    this.#timer = setTimeout(() => this.#attempt(), waitMs);
  }

  /** Ends the connection: politely (no last will) within two seconds, else by force. */
  async close(): Promise<void> {
    this.#closed = true;
    clearTimeout(this.#timer);
    const client = this.#client;
    if (client === undefined) return;
    await new Promise<void>((resolve) => {
      const forced = setTimeout(() => client.end(true, () => resolve()), FORCED_END_MS);
      client.end(!this.#up, () => {
        clearTimeout(forced);
        resolve();
      });
    });
  }
}
