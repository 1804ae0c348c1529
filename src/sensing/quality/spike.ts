import type { Flag } from '../../../shared/reading.js';
import { FAIL, isPresent, MISSING, NOT_EVALUATED, PASS, type Series, SUSPECT } from './qartod.js';

/** Limits in the values' unit; strictly above they speak. */
export interface SpikeLimits {
  readonly suspect: number;
  readonly fail: number;
}

/**
 * average: distance from the mean of both neighbours. differential: the smaller of the steps before and after, counted
 * only when the series turns there.
 */
export type SpikeMethod = 'average' | 'differential';

function spikeHeight(before: number, value: number, after: number, method: SpikeMethod): number {
  if (method === 'average') return Math.abs(value - (before + after) / 2);
  const rise = value - before;
  const fall = value - after;
  return rise * fall > 0 ? Math.min(Math.abs(rise), Math.abs(fall)) : 0;
}

/** Spike test of a whole series; ends and neighbours of gaps are not evaluated. It looks one reading ahead. */
export function spikeTest(values: Series, limits: SpikeLimits, method: SpikeMethod = 'average'): Flag[] {
  return values.map((value, i) => {
    if (!isPresent(value)) return MISSING;
    const before = values[i - 1];
    const after = values[i + 1];
    if (!isPresent(before) || !isPresent(after)) return NOT_EVALUATED;
    const height = spikeHeight(before, value, after, method);
    if (height > limits.fail) return FAIL;
    return height > limits.suspect ? SUSPECT : PASS;
  });
}
