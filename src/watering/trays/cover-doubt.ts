import { MS_PER_HOUR } from '../desk/desk.js';
import type { RegisteredTray } from '../desk/tray-register.js';
import { type CoverDoubt, MOST_COVER_DOUBT } from './tray-risk.js';

const DAY_MS = 24 * MS_PER_HOUR;

/**
 * How far a cover is to be doubted: not at all until `doubtedAfterDays` since somebody last spoke of it, then rising to an even
 * chance over as many days again. A tray whose own probe shows its drying needs no doubt.
 */
export function coverDoubt(
  tray: RegisteredTray,
  fromProbe: boolean,
  doubtedAfterDays: number,
  nowMs: number,
): CoverDoubt | undefined {
  if (tray.cover === 'none' || fromProbe) return undefined;
  const silentDays = (nowMs - tray.coverToldAtMs) / DAY_MS;
  const probability = MOST_COVER_DOUBT * Math.min(1, silentDays / doubtedAfterDays - 1);
  return probability <= 0 ? undefined : { probability, blockSideMm: tray.blockSideMm };
}
