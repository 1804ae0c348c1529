import type { FarmConfig } from '../../../shared/config/farm.js';
import type { ProbeConfig } from '../../../shared/config/kit/probes.js';
import { isVolumetric, rawValues } from './raw-values.js';
import type { FoundSeries } from './recognise.js';
import { nameWithoutKind } from './table/column-kind.js';

/** A block's side in mm and how many stand on a tray: by common practice 3/4, 1 1/2 and 2 in, 280, 72 and 48. */
const COUNTS: readonly (readonly [number, number])[] = [
  [19, 280],
  [38, 72],
  [51, 48],
];
const ID_CHARS = 32;
/** The one bench of the file, by a name that goes well into a sentence: "on bench one". */
const BENCH = 'one';
/** A rise by this within a few readings is a watering (m3/m3; half of what a block takes up in any pour worth the walk; judgement). */
const POUR_M3_PER_M3 = 0.05;
const POUR_STEPS = 4;
/** Water that must lie between full and ready for a dry-down to be one. */
const LEAST_SPAN_M3_PER_M3 = 0.06;

/** One probe of the farm that a file makes, with its values in the raw unit. */
export interface FileProbe {
  readonly probeId: string;
  readonly column: string;
  readonly atMs: readonly number[];
  readonly values: readonly number[];
}

/** What full and ready were taken for, where the file is in water content. */
export interface Levels {
  readonly trayId: string;
  readonly column: string;
  readonly fullM3PerM3: number;
  readonly readyM3PerM3: number;
  /** True where the file shows waterings to take "ready" from. */
  readonly isFromWaterings: boolean;
}

export interface FileFarm {
  /** A configuration as people would write it; defaults come with the schema. */
  readonly config: Pick<FarmConfig, 'farm' | 'timeZone' | 'benches' | 'trays'> & {
    readonly probes: readonly ProbeConfig[];
  };
  readonly probes: readonly FileProbe[];
  readonly levels: readonly Levels[];
}

function idMaker(): (text: string, fallback: string) => string {
  const taken = new Set<string>();
  return (text, fallback) => {
    const plain =
      text
        .normalize('NFD')
        .replace(/\p{M}/gu, '')
        .replace(/[([{].*?[)\]}]/g, ' ')
        .replace(/[^A-Za-z0-9]+/g, '-')
        .replace(/^-+|-+$/g, '')
        .toLowerCase()
        .slice(0, ID_CHARS) || fallback;
    let id = plain;
    for (let n = 2; taken.has(id); n++) id = `${plain}-${n}`;
    taken.add(id);
    return id;
  };
}

const quantile = (sorted: readonly number[], q: number): number =>
  sorted[Math.min(sorted.length - 1, Math.max(0, Math.round(q * (sorted.length - 1))))] ?? 0;

/** Full and ready from the file itself: where it stands after waterings, and where it stood when somebody watered. */
function levelsOf(trayId: string, column: string, values: readonly number[]): Levels | undefined {
  const troughs: number[] = [];
  for (let i = POUR_STEPS; i < values.length; i++) {
    const rise = (values[i] ?? 0) - (values[i - POUR_STEPS] ?? 0);
    if (rise < POUR_M3_PER_M3) continue;
    troughs.push(Math.min(...values.slice(i - POUR_STEPS, i)));
    i += POUR_STEPS;
  }
  const sorted = [...values].sort((a, b) => a - b);
  const full = quantile(sorted, 0.98);
  const isFromWaterings = troughs.length > 0;
  const found = isFromWaterings
    ? quantile(
        [...troughs].sort((a, b) => a - b),
        0.5,
      )
    : quantile(sorted, 0.05);
  const ready = Math.min(found, full - LEAST_SPAN_M3_PER_M3);
  if (ready <= 0 || full >= 1) return undefined;
  const round = (value: number): number => Number(value.toFixed(3));
  return { trayId, column, fullM3PerM3: round(full), readyM3PerM3: round(ready), isFromWaterings };
}

/**
 * A farm for what a file holds: one bench, a tray under each moisture probe or scale. What the file does not say, the size of the
 * blocks above all, is taken as given.
 * @param blockSideMm side of the blocks, mm
 */
export function farmOfFile(
  found: readonly FoundSeries[],
  options: { readonly timeZone: string; readonly blockSideMm: number; readonly farm: string },
): FileFarm {
  const bench = BENCH;
  const probeIdOf = idMaker();
  const trayIdOf = idMaker();
  const [, blockCount = 72] = COUNTS.find(([side]) => options.blockSideMm <= side) ?? [0, 48];
  const levels: Levels[] = [];
  const trays: FarmConfig['trays'] = [];
  const probes: ProbeConfig[] = [];
  const fileProbes: FileProbe[] = [];
  const addTray = (column: string): string => {
    const id = trayIdOf(nameWithoutKind(column), `tray-${trays.length + 1}`);
    trays.push({ id, bench, blockSideMm: options.blockSideMm, blockCount });
    return id;
  };
  for (const series of found) {
    const id = probeIdOf(series.column, series.kind);
    const values = rawValues(series);
    fileProbes.push({ probeId: id, column: series.column, atMs: series.atMs, values });
    if (series.kind === 'air-temperature' || series.kind === 'relative-humidity')
      probes.push({ id, kind: series.kind, bench });
    else if (series.kind === 'light')
      probes.push({ id, kind: 'light', bench, unit: series.unit === 'W/m2' ? 'W/m2' : 'lx' });
    else if (series.kind === 'tray-weight')
      probes.push({ id, kind: 'tray-weight', tray: addTray(series.column) });
    else if (!isVolumetric(series)) probes.push({ id, kind: 'block-moisture', tray: addTray(series.column) });
    else {
      const tray = addTray(series.column);
      const own = levelsOf(tray, series.column, values);
      const last = trays.at(-1);
      if (own !== undefined && last !== undefined) {
        levels.push(own);
        trays[trays.length - 1] = {
          ...last,
          containerCapacityM3PerM3: own.fullM3PerM3,
          refillPointM3PerM3: own.readyM3PerM3,
        };
      }
      probes.push({
        id,
        kind: 'block-moisture',
        tray,
        calibration: [
          { volts: 0.01, waterContentM3PerM3: 0.01 },
          { volts: 0.95, waterContentM3PerM3: 0.95 },
        ],
      });
    }
  }
  return {
    config: { farm: options.farm, timeZone: options.timeZone, benches: [{ id: bench }], trays, probes },
    probes: fileProbes,
    levels,
  };
}
