import { leftCensoredQuantiles } from '../../numbers/left-censored.js';
import { TENTHS } from '../model/tray-forecast.js';
import type { CurveSample, KeptDryDown } from './kept-dry-down.js';

/** The middle and the outer tenths of several drying curves, some hours after the watering. */
export interface BandPoint {
  readonly elapsedH: number;
  /** Null from where the driest tenth were watered away: how dry they would be is not known. */
  readonly p10M3PerM3: number | null;
  readonly p50M3PerM3: number;
  readonly p90M3PerM3: number;
  /** Curves that were still drying then. */
  readonly curveCount: number;
}

/** With fewer curves than this nothing is drawn: the outer tenths would say nothing (judgement). */
export const FEWEST_CURVES = 3;

/**
 * Median and 10-90 % band of drying curves aligned at the watering, every `stepH` hours. Dry-downs end when somebody waters, and
 * the driest are watered first: an ended one stays in the sample as "at most as wet as when it was watered", so that the rest, the
 * slow ones, do not pass for all. From where the median lies among the ended ones, or fewer than three are still drying, nothing
 * is told.
 */
export function curveBand(dryDowns: readonly KeptDryDown[], stepH: number): readonly BandPoint[] {
  if (!(stepH > 0)) throw new RangeError(`expected a step of more than 0 h, got ${stepH}`);
  const curves = dryDowns.map(({ samples }) => samples).filter((samples) => samples.length >= 2);
  const walks = curves.map((samples) => new CurveWalk(samples));
  const drying = new Float64Array(curves.length);
  const ended = new Float64Array(curves.length);
  const points: BandPoint[] = [];
  for (let step = 0; ; step++) {
    const elapsedH = step * stepH;
    let curveCount = 0;
    let endedCount = 0;
    for (const walk of walks) {
      const waterContent = walk.valueAt(elapsedH);
      if (waterContent !== undefined) drying[curveCount++] = waterContent;
      else ended[endedCount++] = walk.endValue;
    }
    if (curveCount < FEWEST_CURVES) return points;
    const [p10 = null, p50 = null, p90 = null] = leftCensoredQuantiles(
      drying.subarray(0, curveCount).sort(),
      ended.subarray(0, endedCount).sort(),
      Object.values(TENTHS),
    );
    if (p50 === null || p90 === null) return points;
    // Blocks do not get wetter by themselves: with ended ones in the sample a rise is the estimate's own.
    const before = endedCount > 0 ? points.at(-1) : undefined;
    points.push({
      elapsedH,
      p10M3PerM3: p10 === null || before?.p10M3PerM3 === null ? null : lower(p10, before?.p10M3PerM3),
      p50M3PerM3: lower(p50, before?.p50M3PerM3),
      p90M3PerM3: lower(p90, before?.p90M3PerM3),
      curveCount,
    });
  }
}

function lower(value: number, before: number | undefined): number {
  return before === undefined ? value : Math.min(before, value);
}

/** Water content of one curve by linear interpolation between its samples, asked for at later and later hours. */
class CurveWalk {
  #after = 0;
  /** Water content when it was watered. */
  readonly endValue: number;

  constructor(private readonly samples: readonly CurveSample[]) {
    this.endValue = samples.at(-1)?.waterContentM3PerM3 ?? 0;
  }

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
