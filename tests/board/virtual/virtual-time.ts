import type { Clock } from '../../../src/monitor/ports/ports.js';
import type { VirtualUno } from './uno.js';

interface Sleeper {
  readonly dueMs: number;
  readonly wake: () => void;
}

/** Milliseconds without a byte on the line after which the boards are frozen until the next timer. */
const quietMs = 2;

/**
 * One time for emulated boards and for the code that reads them. Each step runs the boards for 1 ms, lets Node's pending
 * work run, and wakes the sleepers that are due. While nothing moves it jumps to the next timer.
 */
export class VirtualTime implements Clock {
  readonly #epochMs: number;
  readonly #boards = new Set<VirtualUno>();
  #sleepers: Sleeper[] = [];
  #elapsedMs = 0;
  #awakeUntilMs = 0;

  constructor(epochMs = Date.UTC(2026, 3, 18, 5)) {
    this.#epochMs = epochMs;
  }

  nowMs(): number {
    return this.#epochMs + this.#elapsedMs;
  }

  monotonicMs(): number {
    return this.#elapsedMs;
  }

  sleep(ms: number, signal?: AbortSignal): Promise<void> {
    return new Promise((resolve, reject) => {
      if (signal?.aborted) {
        reject(signal.reason);
        return;
      }
      const onAbort = () => {
        this.#sleepers = this.#sleepers.filter((one) => one !== sleeper);
        reject(signal?.reason);
      };
      const sleeper: Sleeper = {
        dueMs: this.#elapsedMs + ms,
        wake: () => {
          signal?.removeEventListener('abort', onAbort);
          resolve();
        },
      };
      signal?.addEventListener('abort', onAbort, { once: true });
      this.#sleepers.push(sleeper);
    });
  }

  powerUp(board: VirtualUno): void {
    this.#boards.add(board);
    this.stir();
  }

  powerDown(board: VirtualUno): void {
    this.#boards.delete(board);
  }

  /** A byte moved, or a board boots: keep the boards running for a while. */
  stir(forMs = quietMs): void {
    this.#awakeUntilMs = Math.max(this.#awakeUntilMs, this.#elapsedMs + forMs);
  }

  /** Runs until `work` has settled. */
  async until<T>(work: Promise<T>): Promise<T> {
    let settled = false;
    const settle = () => {
      settled = true;
    };
    work.then(settle, settle);
    for (let steps = 0; !settled; steps++) {
      await this.#step();
      if (steps > 5_000_000) throw new Error('virtual time went on too long');
    }
    return await work;
  }

  async advance(ms: number): Promise<void> {
    await this.until(this.sleep(ms));
  }

  async #step(): Promise<void> {
    await new Promise((resolve) => setImmediate(resolve));
    const nextDueMs = Math.min(...this.#sleepers.map(({ dueMs }) => dueMs));
    const frozen =
      this.#elapsedMs >= this.#awakeUntilMs && [...this.#boards].every((board) => board.receiverIdle);
    if (frozen && nextDueMs > this.#elapsedMs + 1 && Number.isFinite(nextDueMs)) this.#elapsedMs = nextDueMs;
    else {
      if (!frozen) for (const board of this.#boards) board.runMs(1);
      this.#elapsedMs += 1;
    }
    const due = this.#sleepers.filter(({ dueMs }) => dueMs <= this.#elapsedMs);
    this.#sleepers = this.#sleepers.filter(({ dueMs }) => dueMs > this.#elapsedMs);
    for (const { wake } of due.sort((a, b) => a.dueMs - b.dueMs)) wake();
  }
}
