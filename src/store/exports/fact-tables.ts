import { toInstant } from '../../../shared/base/ids.js';
import type { Fact, FactKind } from '../../monitor/ports/facts.js';
import { type Cell, freeText } from './csv.js';

/** One table of an export: units stand in the column names. */
export interface FactTable {
  readonly kind: FactKind;
  readonly columns: readonly string[];
  /** Rows of one fact; none when it is of another kind. */
  rows(fact: Fact): readonly (readonly Cell[])[];
}

const instant = (atMs: number | undefined) => (atMs === undefined ? undefined : toInstant(atMs));

/** What `drybell export` can write, by name. */
export const FACT_TABLES = {
  forecasts: {
    kind: 'forecast',
    columns: [
      'at',
      'tray',
      'waterContentM3PerM3',
      'waterContentSdM3PerM3',
      'hoursToRefillP10H',
      'hoursToRefillP50H',
      'hoursToRefillP90H',
      'driestTenthP10H',
      'driestTenthP50H',
      'driestTenthP90H',
      'basis',
    ],
    rows: (fact) => {
      if (fact.kind !== 'forecast') return [];
      const { forecast: f } = fact;
      const hours = [f.hoursToRefill, f.hoursToRefillDriestTenth].flatMap(({ p10, p50, p90 }) => [
        p10,
        p50,
        p90,
      ]);
      return [[f.at, f.tray, f.waterContentM3PerM3, f.waterContentSdM3PerM3, ...hours, f.basis]];
    },
  },
  waterings: {
    kind: 'watering',
    columns: ['at', 'tray', 'source', 'ml', 'takenUpMl', 'by', 'undone'],
    rows: (fact) => {
      if (fact.kind !== 'watering') return [];
      const { at, tray, source, ml, takenUpMl, by } = fact.watering;
      return [[at, tray, source, ml, takenUpMl, freeText(by), fact.undone === true]];
    },
  },
  alarms: {
    kind: 'alarm',
    columns: ['at', 'kind', 'state', 'tray', 'bench', 'source', 'reason', 'by', 'shelvedUntil', 'sentence'],
    rows: (fact) => {
      if (fact.kind !== 'alarm') return [];
      const { at, kind, state, tray, bench, source, reason, by, shelvedUntil, sentence } = fact.transition;
      return [[at, kind, state, tray, bench, source, reason, freeText(by), shelvedUntil, freeText(sentence)]];
    },
  },
  'tray-events': {
    kind: 'tray-event',
    columns: ['at', 'tray', 'event', 'by', 'undone', 'details'],
    rows: (fact) => {
      if (fact.kind !== 'tray-event') return [];
      const { at, tray, event, by, ...details } = fact.event;
      const rest = Object.keys(details).length === 0 ? undefined : JSON.stringify(details);
      return [[at, tray, event, freeText(by), fact.undone === true, rest]];
    },
  },
  'dry-downs': {
    kind: 'dry-down',
    columns: [
      'startedAt',
      'endedAt',
      'tray',
      'bench',
      'blockSideMm',
      'blockCount',
      'crop',
      'medium',
      'ageDays',
      'stage',
      'covered',
      'startWaterContentM3PerM3',
      'endWaterContentM3PerM3',
      'refillReachedAt',
      'refillPointM3PerM3',
      'meanTemperatureC',
      'meanVpdKPa',
      'meanSolarWPerM2',
      'hasProbe',
    ],
    rows: (fact) => {
      if (fact.kind !== 'dry-down' || !('samples' in fact.dryDown)) return [];
      const d = fact.dryDown;
      const tray = [d.trayId, d.benchId, d.blockSideMm, d.blockCount, freeText(d.crop), freeText(d.medium)];
      const life = [d.ageDays, d.stage, d.covered];
      const refill = [instant(d.refillReachedAtMs), d.refillPointM3PerM3];
      const water = [d.startWaterContentM3PerM3, d.endWaterContentM3PerM3, ...refill];
      const climate = [d.meanTemperatureC, d.meanVpdKPa, d.meanSolarWPerM2, d.hasProbe];
      return [[instant(d.startedAtMs), instant(d.endedAtMs), ...tray, ...life, ...water, ...climate]];
    },
  },
  'curve-samples': {
    kind: 'dry-down',
    columns: ['startedAt', 'tray', 'bench', 'blockSideMm', 'elapsedH', 'waterContentM3PerM3'],
    rows: (fact) => {
      if (fact.kind !== 'dry-down' || !('samples' in fact.dryDown)) return [];
      const { startedAtMs, trayId, benchId, blockSideMm, samples } = fact.dryDown;
      return samples.map(({ elapsedH, waterContentM3PerM3 }) => [
        instant(startedAtMs),
        trayId,
        benchId,
        blockSideMm,
        elapsedH,
        waterContentM3PerM3,
      ]);
    },
  },
  notes: {
    kind: 'note',
    columns: ['at', 'tray', 'by', 'text'],
    rows: (fact) =>
      fact.kind === 'note' ? [[fact.at, fact.tray, freeText(fact.by), freeText(fact.text)]] : [],
  },
} as const satisfies Readonly<Record<string, FactTable>>;

export type FactTableName = keyof typeof FACT_TABLES;
