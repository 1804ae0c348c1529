import { Pace, type PaceLimits } from './pace.js';

/** Lets one after the other through, no faster than its pace. What waits is in memory: whoever fills a lane must stop reading meanwhile. */
export class Lane {
  readonly #pace: Pace;
  readonly #waiting: { readonly cost: number; readonly go: () => void }[] = [];
  #timer: NodeJS.Timeout | undefined;

  /** @param monotonicMs elapsed time */
  constructor(limits: PaceLimits, monotonicMs: () => number) {
    this.#pace = new Pace(limits, monotonicMs);
  }

  /** Calls `go` when it is its turn: at once when nobody waits and the pace allows it. */
  pass(cost: number, go: () => void): void {
    this.#waiting.push({ cost, go });
    if (this.#waiting.length === 1) this.#next();
  }

  isRested(): boolean {
    return this.#waiting.length === 0 && this.#pace.isRested();
  }

  /** Nobody passes any more. */
  stop(): void {
    clearTimeout(this.#timer);
    this.#waiting.length = 0;
  }

  #next(): void {
    for (let first = this.#waiting[0]; first !== undefined; first = this.#waiting[0]) {
      const waitMs = this.#pace.take(first.cost);
      if (waitMs > 0) {
        this.#timer = setTimeout(() => {
          this.#goFirst();
          this.#next();
        }, waitMs);
        return;
      }
      this.#goFirst();
    }
  }

  #goFirst(): void {
    this.#waiting.shift()?.go();
  }
}
