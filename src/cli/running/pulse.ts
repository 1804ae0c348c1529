import type { Vitals } from '../../review/server/house/watch-answers.js';

const US_PER_S = 1_000_000;

/** When the loop that does the work came round last, and what the process uses. */
export class Pulse {
  readonly #startedAtMs = Date.now() - process.uptime() * 1000;
  #beatMs: number;

  constructor(
    private readonly version: string,
    private readonly monotonicMs: () => number,
  ) {
    this.#beatMs = monotonicMs();
  }

  beat(): void {
    this.#beatMs = this.monotonicMs();
  }

  vitals(): Vitals {
    const { user, system } = process.cpuUsage();
    return {
      version: this.version,
      startedAtMs: this.#startedAtMs,
      residentBytes: process.memoryUsage.rss(),
      cpuS: (user + system) / US_PER_S,
      standstillMs: this.monotonicMs() - this.#beatMs,
    };
  }
}
