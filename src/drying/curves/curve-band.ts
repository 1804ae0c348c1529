import type { CurveSample, KeptDryDown } from './kept-dry-down.js';
import { quantileOfSorted } from './quantile.js';

/** The middle and the outer tenths of several drying curves, some hours after the watering. */
export interface BandPoint {
  readonly elapsedH: number;
  readonly p10M3PerM3: number;
  readonly p50M3PerM3: number;
  readonly p90M3PerM3: number;
  /** Curves that were still drying then. */
  readonly curveCount: number;
}

/** With fewer curves than this the outer tenths say nothing. */
export const FEWEST_CURVES = 3;

/** The band ends where fewer than this share of the curves is left, since those are the slow ones only. */
const LEAST_SHARE = 1 / 2;

/**
 * Median and 10-90 % band of drying curves aligned at the watering, every `stepH` hours. Each curve counts up to the watering
 * that ended it. Dry-downs end when somebody waters, so later points rest on fewer and slower curves: `curveCount` says how
 * many, and the band stops where fewer than three, or than half, are left.
 */
export function curveBand(dryDowns: readonly KeptDryDown[], stepH: number): readonly BandPoint[] {
  if (!(stepH > 0)) throw new RangeError(`expected a step of more than 0 h, got ${stepH}`);
  const curves = dryDowns.map(({ samples }) => samples).filter((samples) => samples.length >= 2);
  const fewest = Math.max(FEWEST_CURVES, curves.length * LEAST_SHARE);
  const walks = curves.map((samples) => new CurveWalk(samples));
  const room = new Float64Array(curves.length);
  const points: BandPoint[] = [];
  for (let step = 0; ; step++) {
    const elapsedH = step * stepH;
    let curveCount = 0;
    for (const walk of walks) {
      const waterContent = walk.valueAt(elapsedH);
      if (waterContent !== undefined) room[curveCount++] = waterContent;
    }
    if (curveCount < fewest) return points;
    const ascending = room.subarray(0, curveCount).sort();
    points.push({
      elapsedH,
      p10M3PerM3: quantileOfSorted(ascending, 0.1),
      p50M3PerM3: quantileOfSorted(ascending, 0.5),
      p90M3PerM3: quantileOfSorted(ascending, 0.9),
      curveCount,
    });
  }
}

/** Water content of one curve by linear interpolation between its samples, asked for at later and later hours. */
class CurveWalk {
  #after = 0;

  constructor(private readonly samples: readonly CurveSample[]) {}

  /** Undefined before its first sample or after its last. */
  valueAt(elapsedH: number): number | undefined {
    const { samples } = this;
    while ((samples[this.#after]?.elapsedH ?? Number.POSITIVE_INFINITY) < elapsedH) this.#after += 1;
    const next = samples[this.#after];
    if (next === undefined) return undefined;
    if (next.elapsedH === elapsedH) return next.waterContentM3PerM3;
    const before = samples[this.#after - 1];
    if (before === undefined) return undefined;
    const share = (elapsedH - before.elapsedH) / (next.elapsedH - before.elapsedH);
    return before.waterContentM3PerM3 + share * (next.waterContentM3PerM3 - before.waterContentM3PerM3);
  }
}
