import { HOURS_PER_DAY, MS_PER_HOUR } from '../../../shared/base/time-units.js';
import {
  type HoursEstimate,
  hoursEstimate,
  survivalCurve,
  type Watched,
} from '../../numbers/kaplan-meier.js';
import { TENTHS } from '../model/tray-forecast.js';
import { bySize } from './curve-filter.js';
import type { DryDownSummary } from './kept-dry-down.js';

/** How long blocks of one size lasted from a watering to the refill point. */
export interface RefillHours {
  readonly blockSideMm: number;
  readonly dryDownCount: number;
  /** Those that reached the refill point; the others were watered before and count as "longer than". */
  readonly reachedCount: number;
  /** Hours by which a tenth, half and nine tenths have reached it. */
  readonly p10: HoursEstimate;
  readonly p50: HoursEstimate;
  readonly p90: HoursEstimate;
  /** The longest dry-down, whether it reached the refill point or not. */
  readonly longestH: number;
  /**
   * Waterings a day with which nine dry-downs of ten stay above the refill point: 24 h over the p10 hours. Null when too few
   * reached it; then fewer than `24 / longestH` cannot be told from the data.
   */
  readonly roundsPerDay: number | null;
}

/** What a dry-down says about the hours to refill. */
export function watchedDryDown(dryDown: DryDownSummary): Watched {
  const { startedAtMs, endedAtMs, refillReachedAtMs } = dryDown;
  return refillReachedAtMs === undefined
    ? { hours: (endedAtMs - startedAtMs) / MS_PER_HOUR, reached: false }
    : { hours: (refillReachedAtMs - startedAtMs) / MS_PER_HOUR, reached: true };
}

/** The table of hours to refill, one row for each block size, smallest first. */
export function refillHoursBySize(dryDowns: readonly DryDownSummary[]): readonly RefillHours[] {
  return [...bySize(dryDowns)].map(([blockSideMm, ofSize]) => {
    const watched = ofSize.map(watchedDryDown);
    const curve = survivalCurve(watched);
    const p10 = hoursEstimate(curve, TENTHS.p10);
    return {
      blockSideMm,
      dryDownCount: watched.length,
      reachedCount: watched.filter(({ reached }) => reached).length,
      p10,
      p50: hoursEstimate(curve, TENTHS.p50),
      p90: hoursEstimate(curve, TENTHS.p90),
      longestH: Math.max(...watched.map(({ hours }) => hours)),
      roundsPerDay: p10.hours === null || p10.hours <= 0 ? null : HOURS_PER_DAY / p10.hours,
    };
  });
}
