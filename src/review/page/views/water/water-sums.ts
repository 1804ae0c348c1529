import type { WaterAnswer } from '../../../../../shared/page/page-review.js';

/** Beyond this many days, weeks are summed: a phone has no room for more columns. */
const MOST_DAY_COLUMNS = 31;

/** One column of the Water view: a day, or the week that begins on it. */
export interface WaterColumn {
  readonly fromDay: string;
  readonly dayCount: number;
  readonly ml: number;
  readonly mlBySize: ReadonlyMap<number | undefined, number>;
  readonly mlByTray: ReadonlyMap<string, number>;
}

export interface WaterSums {
  readonly columns: readonly WaterColumn[];
  readonly isWeekly: boolean;
  /** Smallest first; undefined, where a tray's size is not known, last. */
  readonly sizes: readonly (number | undefined)[];
  readonly totalMl: number;
  readonly wateringCount: number;
  readonly workedOutCount: number;
  readonly unknownCount: number;
}

function added<K>(sums: Map<K, number>, key: K, ml: number): void {
  sums.set(key, (sums.get(key) ?? 0) + ml);
}

/** Sums of the water used by day or week, size and tray. */
export function waterSums({ days, uses, trays }: WaterAnswer): WaterSums {
  const isWeekly = days.length > MOST_DAY_COLUMNS;
  const width = isWeekly ? 7 : 1;
  const sizeOf = new Map(trays.map((tray) => [tray.id, tray.blockSideMm]));
  const place = new Map(days.map((day, index) => [day, Math.floor(index / width)]));
  const columns = Array.from({ length: Math.ceil(days.length / width) }, (_, index) => ({
    fromDay: days[index * width] ?? '',
    dayCount: Math.min(width, days.length - index * width),
    ml: 0,
    mlBySize: new Map<number | undefined, number>(),
    mlByTray: new Map<string, number>(),
  }));
  for (const use of uses) {
    const column = columns[place.get(use.day) ?? -1];
    if (column === undefined) continue;
    column.ml += use.ml;
    added(column.mlBySize, sizeOf.get(use.tray), use.ml);
    added(column.mlByTray, use.tray, use.ml);
  }
  const sum = (pick: (use: WaterAnswer['uses'][number]) => number): number =>
    uses.reduce((total, use) => total + pick(use), 0);
  const sizes = [...new Set(uses.map((use) => sizeOf.get(use.tray)))];
  return {
    columns,
    isWeekly,
    sizes: sizes.sort((a, b) => (a ?? Number.MAX_VALUE) - (b ?? Number.MAX_VALUE)),
    totalMl: sum((use) => use.ml),
    wateringCount: sum((use) => use.wateringCount),
    workedOutCount: sum((use) => use.workedOutCount),
    unknownCount: sum((use) => use.unknownCount),
  };
}
