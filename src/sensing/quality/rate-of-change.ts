import type { Flag } from '../../../shared/reading.js';
import { FAIL, isPresent, MISSING, PASS, type Series, SUSPECT } from './qartod.js';

const MS_PER_S = 1000;

/** Limits in the values' unit per second; strictly above they speak. */
export interface RateLimits {
  readonly suspectPerS: number;
  readonly failPerS?: number | undefined;
}

/** Rate-of-change test; the first reading and one after a gap pass, for want of a neighbour. */
export function rateOfChangeTest(values: Series, timesMs: readonly number[], limits: RateLimits): Flag[] {
  return values.map((value, i) => {
    if (!isPresent(value)) return MISSING;
    const before = values[i - 1];
    if (!isPresent(before)) return PASS;
    const elapsedS = ((timesMs[i] ?? 0) - (timesMs[i - 1] ?? 0)) / MS_PER_S;
    const ratePerS = Math.abs(value - before) / elapsedS;
    if (limits.failPerS !== undefined && ratePerS > limits.failPerS) return FAIL;
    return ratePerS > limits.suspectPerS ? SUSPECT : PASS;
  });
}
