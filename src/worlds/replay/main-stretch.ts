import { MS_PER_DAY } from '../../../shared/base/time-units.js';
/** Two seasons hang together over a winter; years without a reading are a clock that was wrong (judgement). */
export const LONGEST_GAP_DAYS = 400;
export const LONGEST_GAP_MS = LONGEST_GAP_DAYS * MS_PER_DAY;

export interface Stretch {
  /** Index of the first row. */
  readonly from: number;
  /** Index after the last row. */
  readonly to: number;
}

/**
 * The part of a recording in which most rows stand, where gaps longer than LONGEST_GAP_DAYS part it; the earliest of
 * equal ones. A logger whose clock was lost writes rows of 1970 or 2100, and the years between would all be played.
 * @param atMs epoch ms, ascending
 */
export function mainStretch(atMs: ArrayLike<number>): Stretch {
  let best: Stretch = { from: 0, to: 0 };
  let from = 0;
  for (let i = 1; i <= atMs.length; i++) {
    if (i < atMs.length && (atMs[i] ?? 0) - (atMs[i - 1] ?? 0) <= LONGEST_GAP_MS) continue;
    if (i - from > best.to - best.from) best = { from, to: i };
    from = i;
  }
  return best;
}
