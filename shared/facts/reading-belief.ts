import type { Flag } from './reading.js';

/** The one doubt that is no fault: a block fuller than the fullest that was weighed. Such readings count, with more width. */
export const BEYOND_CALIBRATION = 'beyond-calibration';

/** Whether a reading counts: it passed, was not judged, or all that is said of it is that its calibration was carried on. */
export function isBelieved(flag: Flag, flagReasons: readonly string[]): boolean {
  return flag <= 2 || (flag === 3 && flagReasons.length === 1 && flagReasons[0] === BEYOND_CALIBRATION);
}
