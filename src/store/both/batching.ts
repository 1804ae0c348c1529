import type { Fact } from '../../monitor/ports/facts.js';
import type { Clock } from '../../monitor/ports/ports.js';
import type { Said } from '../../watering/sentences/said/said.js';
import { isUrgent } from './fact-index.js';
import { HeldFacts } from './held-facts.js';
import { StoreError } from './store-error.js';

export interface BatchSettings {
  /** Readings that make a batch; 60 when absent. */
  readonly batchReadings?: number | undefined;
  /** Seconds after which a batch is written even if it is not full; 60 when absent. */
  readonly batchS?: number | undefined;
  /** Facts held in memory while the disk takes nothing; 100,000 when absent, about 30 MB. */
  readonly heldLimit?: number | undefined;
}

/** What batches are written to. */
export interface BatchTarget {
  /** All of it or nothing; synced to the disk if `isUrgent`. `isLast`: nothing is held behind it. Throws when the disk does not take it. */
  write(facts: readonly Fact[], isUrgent: boolean, isLast: boolean): void;
  /** What else is to be done now and then, and again after trouble. */
  upkeep(): void;
  /** The error as a StoreError when it is the disk's, else unchanged: our own mistakes end the process. */
  judge(cause: unknown): unknown;
}

export interface Health {
  readonly ok: boolean;
  readonly reason: string;
  readonly own?: Said;
}

/** How often writing is tried again while the disk takes nothing. */
const RETRY_MS = 5000;

/** Facts in one transaction while a backlog is written. */
const CHUNK_FACTS = 2000;

/**
 * Gathers facts into few writes: readings and forecasts wait until a batch is full or a minute has passed, everything else
 * goes at once and takes what waits before it along. While the disk takes nothing facts are held, and tried again.
 */
export class Batching {
  readonly #clock: Clock;
  readonly #target: BatchTarget;
  readonly #held: HeldFacts;
  readonly #batchReadings: number;
  readonly #batchMs: number;
  readonly #stop = new AbortController();
  readonly #ticking: Promise<void>;
  #oldestAtMs = 0;
  #trouble: StoreError | undefined;
  #isClosed = false;

  constructor(clock: Clock, target: BatchTarget, settings: BatchSettings) {
    this.#clock = clock;
    this.#target = target;
    this.#held = new HeldFacts(settings.heldLimit ?? 100_000);
    this.#batchReadings = settings.batchReadings ?? 60;
    this.#batchMs = (settings.batchS ?? 60) * 1000;
    this.#ticking = this.#tick();
  }

  get trouble(): StoreError | undefined {
    return this.#trouble;
  }

  /** @param atOnce write now, and sync */
  keep(facts: readonly Fact[], atOnce = false): void {
    this.refuseWhenClosed('keep facts');
    if (this.#held.size === 0) this.#oldestAtMs = this.#clock.monotonicMs();
    this.#held.add(facts);
    const isDue =
      atOnce ||
      this.#held.hasUrgent ||
      this.#held.size >= this.#batchReadings ||
      this.#clock.monotonicMs() - this.#oldestAtMs >= this.#batchMs;
    if (isDue) this.write(atOnce);
  }

  /** Writes what is held and syncs it; throws `held-back` when that is not possible. */
  flush(): void {
    this.refuseWhenClosed('flush');
    this.write(true);
    this.#throwWhenHeldBack();
  }

  health(): Health {
    if (this.#trouble === undefined) return { ok: true, reason: '' };
    const dropped = this.#held.droppedCount;
    return {
      ok: false,
      reason: this.#trouble.code,
      own: [
        'asItIs',
        `${this.#held.size} facts wait in memory${dropped === 0 ? '' : `, ${dropped} were dropped, readings first`}: ${this.#trouble.message}`,
      ],
    };
  }

  /** Stops the ticking and writes the rest; `closeTarget` runs in any case. Throws `held-back` for what could not be written. */
  async close(closeTarget: () => void): Promise<void> {
    if (this.#isClosed) return;
    this.#isClosed = true;
    this.#stop.abort();
    await this.#ticking;
    try {
      this.write(true);
    } finally {
      closeTarget();
    }
    this.#throwWhenHeldBack();
  }

  /** Writes what is held, oldest first; on failure it stays held and `trouble` says why. */
  write(isSynced = false): void {
    this.attempt(() => {
      do {
        const facts = this.#held.oldest(CHUNK_FACTS);
        const isLast = facts.length === this.#held.size;
        this.#target.write(facts, facts.some(isUrgent) || (isSynced && isLast), isLast);
        this.#held.forgetOldest(facts.length);
      } while (this.#held.size > 0);
      this.#target.upkeep();
    });
  }

  attempt(work: () => void): void {
    try {
      work();
      this.#trouble = undefined;
    } catch (cause) {
      const problem = this.#target.judge(cause);
      if (!(problem instanceof StoreError)) throw problem;
      this.#trouble = problem;
      this.#held.trim();
    }
  }

  refuseWhenClosed(doing: string): void {
    if (this.#isClosed) throw new StoreError('closed', `Cannot ${doing}: the store is closed`);
  }

  #throwWhenHeldBack(): void {
    if (this.#trouble === undefined) return;
    const message = `${this.#held.size} facts wait in memory: ${this.#trouble.message}`;
    throw new StoreError('held-back', message, { retryable: this.#trouble.retryable, cause: this.#trouble });
  }

  async #tick(): Promise<void> {
    const { signal } = this.#stop;
    while (!signal.aborted) {
      try {
        await this.#clock.sleep(this.#trouble === undefined ? this.#batchMs : RETRY_MS, signal);
      } catch (cause) {
        if (signal.aborted) return;
        throw cause;
      }
      this.write();
    }
  }
}
