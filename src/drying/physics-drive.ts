import type { TrayState } from './filter/tray-state.js';
import { COVER_FACTOR } from './physics/cover.js';
import { growthFactor } from './physics/growth.js';

const MS_PER_DAY = 86_400_000;
/** Days from sowing to emergence when nobody tells (common practice for vegetables on a warm bench: 4 to 10). */
const DAYS_TO_EMERGE = 6;

/** Cover and growth of a tray at an instant, as one factor on its drying. */
export function trayDriveFactor(tray: TrayState, atMs: number): number {
  const emergedAtMs =
    tray.germinatedAtMs ??
    (tray.sownAtMs === undefined ? undefined : tray.sownAtMs + DAYS_TO_EMERGE * MS_PER_DAY);
  const days = emergedAtMs === undefined ? undefined : (atMs - emergedAtMs) / MS_PER_DAY;
  return COVER_FACTOR[tray.cover] * growthFactor(days);
}
