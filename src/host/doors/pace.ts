/** How much may come at once, and how fast it goes on after that. */
export interface PaceLimits {
  readonly burst: number;
  readonly perS: number;
}

/**
 * A token bucket: what comes faster waits its turn, in order; nothing is thrown away. Whoever has to wait is told for how long, and
 * the debt stands, so that the next waits behind it.
 */
export class Pace {
  #tokens: number;
  #filledAtMs: number;

  /** @param monotonicMs elapsed time */
  constructor(
    private readonly limits: PaceLimits,
    private readonly monotonicMs: () => number,
  ) {
    this.#tokens = limits.burst;
    this.#filledAtMs = monotonicMs();
  }

  /** Takes so many tokens. @returns milliseconds to wait before going on; 0: none */
  take(cost: number): number {
    const nowMs = this.monotonicMs();
    const { burst, perS } = this.limits;
    this.#tokens = Math.min(burst, this.#tokens + ((nowMs - this.#filledAtMs) / 1000) * perS) - cost;
    this.#filledAtMs = nowMs;
    return this.#tokens >= 0 ? 0 : (-this.#tokens / perS) * 1000;
  }

  /** True when nothing is owed and the bucket would be full by now. */
  isRested(): boolean {
    const { burst, perS } = this.limits;
    return this.#tokens + ((this.monotonicMs() - this.#filledAtMs) / 1000) * perS >= burst;
  }
}
