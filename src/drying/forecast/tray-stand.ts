import { MS_PER_DAY } from '../../../shared/base/time-units.js';
import type { TrayState } from '../filter/tray-state.js';
import type { TrayStand } from '../physics/drying-law.js';
import { leafShare } from '../physics/growth.js';

/** Days from sowing to emergence when nobody tells (common practice for vegetables on a warm bench: 4 to 10). */
const DAYS_TO_EMERGE = 6;

/** What a tray is to the weather at an instant. */
export function standOf(tray: TrayState, atMs: number): TrayStand {
  const emergedAtMs =
    tray.germinatedAtMs ??
    (tray.sownAtMs === undefined ? undefined : tray.sownAtMs + DAYS_TO_EMERGE * MS_PER_DAY);
  const days = emergedAtMs === undefined ? undefined : (atMs - emergedAtMs) / MS_PER_DAY;
  return { exchange: tray.exchange, cover: tray.cover, leafShare: leafShare(days) };
}
