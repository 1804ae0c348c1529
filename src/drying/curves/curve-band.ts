import type { CurveSample, KeptDryDown } from './kept-dry-down.js';
import { quantile } from './quantile.js';

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
  const points: BandPoint[] = [];
  for (let step = 0; ; step++) {
    const elapsedH = step * stepH;
    const waterContents = curves.flatMap((samples) => valueAt(samples, elapsedH) ?? []);
    if (waterContents.length < fewest) return points;
    points.push({
      elapsedH,
      p10M3PerM3: quantile(waterContents, 0.1),
      p50M3PerM3: quantile(waterContents, 0.5),
      p90M3PerM3: quantile(waterContents, 0.9),
      curveCount: waterContents.length,
    });
  }
}

/** Water content of one curve by linear interpolation between its samples; undefined before its first or after its last. */
export function valueAt(samples: readonly CurveSample[], elapsedH: number): number | undefined {
  const after = samples.findIndex((sample) => sample.elapsedH >= elapsedH);
  const next = samples[after];
  if (next === undefined) return undefined;
  if (next.elapsedH === elapsedH) return next.waterContentM3PerM3;
  const before = samples[after - 1];
  if (before === undefined) return undefined;
  const share = (elapsedH - before.elapsedH) / (next.elapsedH - before.elapsedH);
  return before.waterContentM3PerM3 + share * (next.waterContentM3PerM3 - before.waterContentM3PerM3);
}
