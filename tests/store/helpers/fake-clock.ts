import type { Clock } from '../../../src/monitor/ports/ports.js';

interface Sleeper {
  readonly wakeAtMs: number;
  readonly wake: () => void;
}

/** A clock that stands until it is told to go on. */
export class FakeClock implements Clock {
  #nowMs: number;
  readonly #startMs: number;
  #sleepers: Sleeper[] = [];

  constructor(startMs: number) {
    this.#nowMs = startMs;
    this.#startMs = startMs;
  }

  nowMs(): number {
    return this.#nowMs;
  }

  monotonicMs(): number {
    return this.#nowMs - this.#startMs;
  }

  sleep(ms: number, signal?: AbortSignal): Promise<void> {
    return new Promise((resolve, reject) => {
      if (signal?.aborted) {
        reject(signal.reason);
        return;
      }
      const abort = () => {
        this.#sleepers = this.#sleepers.filter((other) => other !== sleeper);
        reject(signal?.reason);
      };
      const wake = () => {
        signal?.removeEventListener('abort', abort);
        resolve();
      };
      const sleeper = { wakeAtMs: this.#nowMs + ms, wake };
      this.#sleepers.push(sleeper);
      signal?.addEventListener('abort', abort, { once: true });
    });
  }

  /** Moves on, waking sleepers in the order of their time; what they start sleeping again within `ms` wakes too. */
  async advance(ms: number): Promise<void> {
    const untilMs = this.#nowMs + ms;
    for (;;) {
      const next = this.#sleepers
        .filter(({ wakeAtMs }) => wakeAtMs <= untilMs)
        .sort((a, b) => a.wakeAtMs - b.wakeAtMs)[0];
      if (next === undefined) break;
      this.#nowMs = Math.max(this.#nowMs, next.wakeAtMs);
      this.#sleepers = this.#sleepers.filter((other) => other !== next);
      next.wake();
      await settle();
    }
    this.#nowMs = untilMs;
    await settle();
  }
}

/** Lets promises that are ready run. */
async function settle(): Promise<void> {
  for (let turn = 0; turn < 3; turn++) await new Promise<void>((resolve) => setImmediate(resolve));
}
