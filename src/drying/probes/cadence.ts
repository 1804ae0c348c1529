import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import type { ProbeState } from '../filter/probe-state.js';

/** A first gap longer than this is a pause, not a cadence, h. */
const LONGEST_FIRST_GAP_H = 4;
/** One gap moves the usual one by this share, and a long one counts for no more than so many usual ones. */
const GAP_LEARNING = 0.1;
const MOST_GAPS = 2;

/** Notes that a probe spoke: learns how often it does. A silence hardly counts, a slower cadence is learned within a day or two. */
export function noteSeen(probe: ProbeState, atMs: number): void {
  if (probe.lastSeenAtMs !== undefined) {
    const gapH = (atMs - probe.lastSeenAtMs) / MS_PER_HOUR;
    const usualH = probe.usualGapH ?? Math.min(gapH, LONGEST_FIRST_GAP_H);
    probe.usualGapH = usualH + GAP_LEARNING * (Math.min(gapH, MOST_GAPS * usualH) - usualH);
  }
  probe.lastSeenAtMs = atMs;
}
