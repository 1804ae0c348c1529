import { MS_PER_DAY } from '../../../shared/base/time-units.js';
import type { TrayEvent } from '../../../shared/facts/tray-life.js';
import type { DryDownSummary } from './kept-dry-down.js';

/** What a tray was at one instant, as its events tell. */
export type TrayAt = Pick<
  DryDownSummary,
  'benchId' | 'blockSideMm' | 'blockCount' | 'crop' | 'medium' | 'ageDays' | 'stage' | 'covered'
>;

/**
 * Plays a tray's standing events up to `atMs` (inclusive) and says what it was then. Events of other trays are passed
 * over, the order of the list does not matter. A tray nobody introduced gives an empty answer.
 */
export function trayAt(events: readonly TrayEvent[], trayId: string, atMs: number): TrayAt {
  const own = events
    .filter((event) => event.tray === trayId && Date.parse(event.at) <= atMs)
    .sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  let tray: TrayAt = {};
  let sownAtMs: number | undefined;
  let germinatedAtMs: number | undefined;
  for (const event of own) {
    switch (event.event) {
      case 'new':
        tray = {
          benchId: event.bench,
          blockSideMm: event.blockSideMm,
          blockCount: event.blockCount,
          crop: event.crop,
          medium: event.medium,
          covered: event.cover !== undefined && event.cover !== 'none',
        };
        sownAtMs = event.sownAt === undefined ? undefined : Date.parse(event.sownAt);
        germinatedAtMs = event.germinatedAt === undefined ? undefined : Date.parse(event.germinatedAt);
        break;
      case 'sown':
        sownAtMs = Date.parse(event.at);
        break;
      case 'germinated':
        germinatedAtMs = Date.parse(event.at);
        break;
      case 'covered':
        tray = { ...tray, covered: true };
        break;
      case 'uncovered':
        tray = { ...tray, covered: false };
        break;
      case 'moved':
        tray = { ...tray, benchId: event.bench };
        break;
      default:
        break;
    }
  }
  return { ...tray, ...ageAt(sownAtMs, atMs), ...stageAt(sownAtMs, germinatedAtMs, atMs) };
}

function ageAt(sownAtMs: number | undefined, atMs: number): Pick<TrayAt, 'ageDays'> {
  return sownAtMs === undefined || sownAtMs > atMs ? {} : { ageDays: (atMs - sownAtMs) / MS_PER_DAY };
}

function stageAt(
  sownAtMs: number | undefined,
  germinatedAtMs: number | undefined,
  atMs: number,
): Pick<TrayAt, 'stage'> {
  if (germinatedAtMs !== undefined && germinatedAtMs <= atMs) return { stage: 'growing' };
  return sownAtMs === undefined ? {} : { stage: 'germinating' };
}
