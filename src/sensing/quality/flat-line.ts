import type { Flag } from '../../../shared/reading.js';
import { FAIL, isPresent, MISSING, PASS, type Series, SUSPECT } from './qartod.js';

const MS_PER_S = 1000;
/** Fewer readings than this cannot be called flat. */
const FEWEST_READINGS = 3;

export interface FlatLineLimits {
  readonly suspectS: number;
  readonly failS: number;
  /** A range below this is flat, in the values' unit. */
  readonly tolerance: number;
}

/** Median step of an ascending list of instants, s. */
export function medianIntervalS(timesMs: readonly number[]): number {
  const steps = timesMs.slice(1).map((atMs, i) => (atMs - (timesMs[i] ?? atMs)) / MS_PER_S);
  steps.sort((a, b) => a - b);
  const middle = steps.length >> 1;
  const upper = steps[middle] ?? 0;
  return steps.length % 2 === 1 ? upper : (upper + (steps[middle - 1] ?? upper)) / 2;
}

function isFlat(values: Series, end: number, count: number, tolerance: number): boolean {
  if (end < count) return false;
  const window = values.slice(end - count, end + 1).filter(isPresent);
  return window.length > 0 && Math.max(...window) - Math.min(...window) < tolerance;
}

/** Flat-line test: the range of the last floor(limit / median step) + 1 readings, gaps left out, is under tolerance. */
export function flatLineTest(values: Series, timesMs: readonly number[], limits: FlatLineLimits): Flag[] {
  const intervalS = medianIntervalS(timesMs);
  const suspectCount = Math.floor(limits.suspectS / intervalS);
  const failCount = Math.floor(limits.failS / intervalS);
  return values.map((value, i) => {
    if (!isPresent(value)) return MISSING;
    if (values.length < FEWEST_READINGS) return PASS;
    if (isFlat(values, i, failCount, limits.tolerance)) return FAIL;
    return isFlat(values, i, suspectCount, limits.tolerance) ? SUSPECT : PASS;
  });
}
