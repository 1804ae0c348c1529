import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import type { Watering } from '../../../shared/facts/watering.js';
import { trayVolumeMl } from '../physics/tray-geometry.js';
import { byTray } from './dry-downs-about.js';
import type { DryDownSummary } from './kept-dry-down.js';

/** A watering and the dry-downs around it are told apart in time by the estimate of when it was poured. */
const SAME_WATERING_MS = 2 * MS_PER_HOUR;

/** Water that one tray was given on one day of the farm's calendar. */
export interface TrayDayWater {
  readonly day: string;
  readonly trayId: string;
  /** Sum of what is known or can be worked out. */
  readonly ml: number;
  readonly wateringCount: number;
  /** Waterings of which `ml` was worked out from the rise of water content, not told or measured. */
  readonly workedOutCount: number;
  /** Waterings of which nothing is known but that they happened; they are not in `ml`. */
  readonly unknownCount: number;
}

/**
 * Water used per tray and day. Of each watering counts what a probe or scale says was taken up, else what was told, else the
 * rise from the end of one dry-down to the start of the next times the blocks' volume. `dayOf` gives the farm's calendar day.
 */
export function waterUse(
  waterings: readonly Watering[],
  dryDowns: readonly DryDownSummary[],
  dayOf: (atMs: number) => string,
): readonly TrayDayWater[] {
  const ends = new TrayEnds(dryDowns);
  const days = new Map<string, TrayDayWater>();
  for (const watering of waterings) {
    const day = dayOf(Date.parse(watering.at));
    const key = `${day} ${watering.tray}`;
    const before = days.get(key) ?? {
      day,
      trayId: watering.tray,
      ml: 0,
      wateringCount: 0,
      workedOutCount: 0,
      unknownCount: 0,
    };
    const told = watering.takenUpMl ?? watering.ml ?? watering.askedMl;
    const ml = told ?? riseMl(watering, ends);
    days.set(key, {
      ...before,
      ml: before.ml + (ml ?? 0),
      wateringCount: before.wateringCount + 1,
      workedOutCount: before.workedOutCount + (told === undefined && ml !== undefined ? 1 : 0),
      unknownCount: before.unknownCount + (ml === undefined ? 1 : 0),
    });
  }
  return [...days.values()].sort((a, b) =>
    a.day === b.day ? compare(a.trayId, b.trayId) : compare(a.day, b.day),
  );
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** mL that the blocks took up between two of the tray's dry-downs; undefined without both of them or the tray's blocks. */
function riseMl(watering: Watering, ends: TrayEnds): number | undefined {
  const atMs = Date.parse(watering.at);
  const ended = ends.endedNear(watering.tray, atMs);
  const begun = ends.begunNear(watering.tray, atMs);
  if (ended === undefined || begun?.blockSideMm === undefined || begun.blockCount === undefined)
    return undefined;
  const rise = begun.startWaterContentM3PerM3 - ended.endWaterContentM3PerM3;
  return Math.max(0, rise * trayVolumeMl({ blockSideMm: begun.blockSideMm, blockCount: begun.blockCount }));
}

/** Finds the first of a tray's dry-downs that began or ended about an instant, without looking at all of them. */
class TrayEnds {
  readonly #begun: ReadonlyMap<string, readonly DryDownSummary[]>;
  readonly #ended: ReadonlyMap<string, readonly DryDownSummary[]>;

  constructor(dryDowns: readonly DryDownSummary[]) {
    this.#begun = byTray([...dryDowns].sort((a, b) => a.startedAtMs - b.startedAtMs));
    this.#ended = byTray([...dryDowns].sort((a, b) => a.endedAtMs - b.endedAtMs));
  }

  begunNear(trayId: string, atMs: number): DryDownSummary | undefined {
    return firstNear(this.#begun.get(trayId) ?? [], atMs, ({ startedAtMs }) => startedAtMs);
  }

  endedNear(trayId: string, atMs: number): DryDownSummary | undefined {
    return firstNear(this.#ended.get(trayId) ?? [], atMs, ({ endedAtMs }) => endedAtMs);
  }
}

/** By bisection: `sorted` ascends in `timeOf`. */
function firstNear(
  sorted: readonly DryDownSummary[],
  atMs: number,
  timeOf: (dryDown: DryDownSummary) => number,
): DryDownSummary | undefined {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    const dryDown = sorted[middle];
    if (dryDown !== undefined && timeOf(dryDown) < atMs - SAME_WATERING_MS) low = middle + 1;
    else high = middle;
  }
  const found = sorted[low];
  return found !== undefined && timeOf(found) <= atMs + SAME_WATERING_MS ? found : undefined;
}
