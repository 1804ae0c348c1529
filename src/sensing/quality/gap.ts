import type { Flag } from '../../../shared/reading.js';
import { FAIL, MISSING, PASS } from './qartod.js';

const MS_PER_S = 1000;

/**
 * Timing/gap test (QARTOD test 1): has a reading arrived within the time in which one was expected? Passes at the
 * limit itself; missing when none ever came.
 */
export function gapFlag(lastReadingMs: number | undefined, nowMs: number, expectedWithinS: number): Flag {
  if (lastReadingMs === undefined) return MISSING;
  return (nowMs - lastReadingMs) / MS_PER_S > expectedWithinS ? FAIL : PASS;
}
