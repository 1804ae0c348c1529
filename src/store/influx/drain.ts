import type { InfluxDB, IPoint } from 'influx';
import type { Clock } from '../../monitor/ports/ports.js';
import { type Failure, judgeFailure } from './connection.js';
import { type Origin, toPoint } from './point.js';
import type { Spool, Spooled } from './spool.js';

/** Points in one request; InfluxDB 1.x advises 5,000 to 10,000, a small board is kinder to memory with fewer. */
const POINTS_AT_ONCE = 2000;
const BYTES_AT_ONCE = 2_000_000;

/** How often the spool is looked at while the server answers. */
const LOOK_MS = 5000;
const FIRST_RETRY_MS = 1000;
const LONGEST_RETRY_MS = 60_000;

/** What became of one look at the spool. */
export type DrainResult = 'empty' | 'more' | 'waiting';

type Refusal = { readonly spooled: Spooled; readonly reason: string };

interface Sent {
  readonly done: readonly Spooled[];
  readonly refused: readonly Refusal[];
  readonly failure: Failure | undefined;
}

/** Delays that double up to a minute, each shortened by up to half so that many boards do not come back at once. */
export function* retryDelaysMs(random: () => number): Generator<number, never> {
  for (let delayMs = FIRST_RETRY_MS; ; delayMs = Math.min(LONGEST_RETRY_MS, delayMs * 2))
    yield delayMs * (1 - random() / 2);
}

/**
 * Carries the spool to InfluxDB, oldest first. What was sent and not yet forgotten is sent again after a crash and overwrites
 * itself. A batch that is refused for its content is halved until the points that are to blame stand alone; those go into
 * quarantine with the server's reason, since the server keeps the good ones of a batch and would refuse the bad ones for ever.
 */
export class Drain {
  readonly #influx: InfluxDB;
  readonly #spool: Spool;
  readonly #origin: Origin;
  readonly #database: string;
  readonly #clock: Clock;
  readonly #random: () => number;
  readonly #stop = new AbortController();
  #turn: Promise<unknown> = Promise.resolve();
  #running: Promise<void> = Promise.resolve();
  #failure: Failure | undefined;
  #failingSinceMs = 0;

  constructor(parts: {
    readonly influx: InfluxDB;
    readonly spool: Spool;
    readonly origin: Origin;
    readonly database: string;
    readonly clock: Clock;
    readonly random: () => number;
  }) {
    this.#influx = parts.influx;
    this.#spool = parts.spool;
    this.#origin = parts.origin;
    this.#database = parts.database;
    this.#clock = parts.clock;
    this.#random = parts.random;
  }

  start(): void {
    this.#running = this.#run();
  }

  async stop(): Promise<void> {
    this.#stop.abort();
    await this.#running;
    await this.#turn;
  }

  /** Why the last request failed and for how long requests have been failing; undefined when the last one succeeded. */
  get trouble(): { readonly failure: Failure; readonly forMs: number } | undefined {
    if (this.#failure === undefined) return undefined;
    return { failure: this.#failure, forMs: this.#clock.monotonicMs() - this.#failingSinceMs };
  }

  /** Sends one batch. Only one is on its way at a time. */
  async drainOnce(): Promise<DrainResult> {
    const result = this.#turn.then(() => this.#drainOnce());
    this.#turn = result.catch(() => undefined);
    return result;
  }

  async #run(): Promise<void> {
    const { signal } = this.#stop;
    let delays = retryDelaysMs(this.#random);
    while (!signal.aborted) {
      const result = await this.drainOnce();
      if (result === 'more') continue;
      if (result === 'empty') delays = retryDelaysMs(this.#random);
      const waitMs = result === 'empty' ? LOOK_MS : delays.next().value;
      try {
        await this.#clock.sleep(waitMs, signal);
      } catch (cause) {
        if (signal.aborted) return;
        throw cause;
      }
    }
  }

  async #drainOnce(): Promise<DrainResult> {
    const batch = this.#spool.oldest(POINTS_AT_ONCE, BYTES_AT_ONCE);
    if (batch.length === 0) return 'empty';
    const { done, refused, failure } = await this.#send(batch);
    if (done.length + refused.length > 0) this.#spool.settle(done, refused, this.#clock.nowMs());
    if (failure === undefined) {
      this.#failure = undefined;
      return 'more';
    }
    if (failure.kind === 'no-database' && (await this.#makeDatabase())) return 'more';
    if (this.#failure === undefined) this.#failingSinceMs = this.#clock.monotonicMs();
    this.#failure = failure;
    return 'waiting';
  }

  async #send(batch: readonly Spooled[]): Promise<Sent> {
    try {
      await this.#influx.writePoints(batch.map((spooled) => this.#point(spooled)));
      return { done: batch, refused: [], failure: undefined };
    } catch (cause) {
      const failure = judgeFailure(cause);
      if (failure.kind !== 'content') return { done: [], refused: [], failure };
      return this.#sortOut(batch, failure.reason);
    }
  }

  async #sortOut(batch: readonly Spooled[], reason: string): Promise<Sent> {
    const dropped = Number(/dropped=(\d+)/.exec(reason)?.[1] ?? 0);
    if (batch.length === 1 || dropped === batch.length)
      return { done: [], refused: batch.map((spooled) => ({ spooled, reason })), failure: undefined };
    const middle = Math.ceil(batch.length / 2);
    const first = await this.#send(batch.slice(0, middle));
    if (first.failure !== undefined) return first;
    const second = await this.#send(batch.slice(middle));
    return {
      done: [...first.done, ...second.done],
      refused: [...first.refused, ...second.refused],
      failure: second.failure,
    };
  }

  async #makeDatabase(): Promise<boolean> {
    try {
      await this.#influx.createDatabase(this.#database);
      return true;
    } catch (cause) {
      return judgeFailure(cause).kind === 'no-database';
    }
  }

  #point({ fact, number, atMs }: Spooled): IPoint {
    return toPoint(fact, this.#origin, number, atMs);
  }
}
