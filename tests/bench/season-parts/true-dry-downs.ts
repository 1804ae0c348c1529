import {
  type BandCameTrue,
  type CameTrue,
  cameTrue,
  cameTrueByBand,
  followForecasts,
} from '../../../src/drying/curves/came-true.js';
import type { ReviewQueries, Span } from '../../../src/monitor/ports/ports.js';
import type { VirtualBench } from '../../../src/worlds/demo/virtual-bench/virtual-bench.js';

interface TrueDryDown {
  readonly trayId: string;
  readonly startedAtMs: number;
  endedAtMs: number;
  refillReachedAtMs?: number;
}

/** Dry-downs as they are on the virtual bench itself: the mean block's way to its refill point, not what the house believes. */
export class TrueDryDowns {
  readonly #bench: VirtualBench;
  readonly #current = new Map<string, TrueDryDown>();
  readonly #ended: TrueDryDown[] = [];

  constructor(bench: VirtualBench) {
    this.#bench = bench;
  }

  poured(trayId: string, atMs: number): void {
    const before = this.#current.get(trayId);
    if (before !== undefined) this.#ended.push({ ...before, endedAtMs: atMs });
    this.#current.set(trayId, { trayId, startedAtMs: atMs, endedAtMs: atMs });
  }

  look(nowMs: number): void {
    for (const dryDown of this.#current.values())
      if (dryDown.refillReachedAtMs === undefined && this.#bench.truth(dryDown.trayId).moistureIndex <= 0)
        dryDown.refillReachedAtMs = nowMs;
  }

  /** How the store's forecasts came true in the dry-downs that ended within the span. */
  async cameTrue(
    store: ReviewQueries,
    span: Span,
  ): Promise<{ readonly all: CameTrue; readonly bands: readonly BandCameTrue[] }> {
    const within = this.#ended.filter(({ endedAtMs }) => endedAtMs >= span.fromMs && endedAtMs < span.toMs);
    const byTray = new Map<string, TrueDryDown[]>();
    for (const one of within) byTray.set(one.trayId, [...(byTray.get(one.trayId) ?? []), one]);
    const followed = [];
    for (const [trayId, dryDowns] of byTray) {
      const fromMs = Math.min(...dryDowns.map(({ startedAtMs }) => startedAtMs));
      followed.push(...followForecasts(dryDowns, await store.forecasts(trayId, { fromMs, toMs: span.toMs })));
    }
    return { all: cameTrue(followed), bands: cameTrueByBand(followed) };
  }
}
