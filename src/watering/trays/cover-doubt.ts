import { MS_PER_DAY } from '../../../shared/base/time-units.js';
import type { RegisteredTray } from '../desk/tray-register.js';
import { MOST_COVER_DOUBT } from './tray-risk.js';

/**
 * How far a cover is to be doubted, the chance that it is off, 0 to 1: not at all until `doubtedAfterDays` since somebody last spoke of it, then rising to an even
 * chance over as many days again. A tray whose own probe shows its drying needs no doubt.
 */
export function coverDoubt(
  tray: RegisteredTray,
  fromProbe: boolean,
  doubtedAfterDays: number,
  nowMs: number,
): number {
  if (tray.cover === 'none' || fromProbe) return 0;
  const silentDays = (nowMs - tray.coverToldAtMs) / MS_PER_DAY;
  return MOST_COVER_DOUBT * Math.min(1, Math.max(0, silentDays / doubtedAfterDays - 1));
}
