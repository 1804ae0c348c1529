import { toInstant } from '../../../shared/base/ids.js';
import type { ExportName, ExportRow } from '../../../shared/export-rows.js';
import type { HoursQuantiles } from '../../../shared/facts/forecast.js';
import type { FactKind } from '../../monitor/ports/facts.js';
import { poursOnce } from '../../monitor/ports/pours-once.js';
import type { SpokenFact } from '../../monitor/ports/spoken-fact.js';

type FactOf<Kind extends FactKind> = Extract<SpokenFact, { readonly kind: Kind }>;

/** One table of an export. */
interface FactTable {
  readonly kind: FactKind;
  /** Rows of facts, oldest first; none of facts of another kind. */
  rows(facts: readonly SpokenFact[]): readonly ExportRow[];
}

/** Every table but that of the readings, which are read probe by probe. */
export type FactTableName = Exclude<ExportName, 'readings'>;

function table<Name extends FactTableName, Kind extends FactKind>(
  kind: Kind,
  rowsOf: (fact: FactOf<Kind>) => readonly ExportRow<Name>[],
  fold: (facts: readonly FactOf<Kind>[]) => readonly FactOf<Kind>[] = (facts) => facts,
): FactTable {
  const isOf = (fact: SpokenFact): fact is FactOf<Kind> => fact.kind === kind;
  return { kind, rows: (facts) => fold(facts.filter(isOf)).flatMap(rowsOf) };
}

const instant = (atMs: number | undefined) => (atMs === undefined ? undefined : toInstant(atMs));

const refillHours = ({ p10, p50, p90 }: Partial<HoursQuantiles>) => ({
  hoursToRefillP10H: p10,
  hoursToRefillP50H: p50,
  hoursToRefillP90H: p90,
});

/** What `drybell export` can write beside the readings, by name. */
export const FACT_TABLES: Readonly<Record<FactTableName, FactTable>> = {
  forecasts: table<'forecasts', 'forecast'>('forecast', ({ forecast: f }) => [
    {
      at: f.at,
      tray: f.tray,
      waterContentM3PerM3: f.waterContentM3PerM3,
      waterContentSdM3PerM3: f.waterContentSdM3PerM3,
      ...refillHours(f.hoursToRefill),
      driestTenthP10H: f.hoursToRefillDriestTenth.p10,
      driestTenthP50H: f.hoursToRefillDriestTenth.p50,
      driestTenthP90H: f.hoursToRefillDriestTenth.p90,
      basis: f.basis,
    },
  ]),
  waterings: table<'waterings', 'watering'>(
    'watering',
    ({ watering: { amends: _, ...watering }, undone }) => [{ ...watering, undone: undone === true }],
    poursOnce,
  ),
  calls: table<'calls', 'call'>('call', ({ call: { about: _, ...call } }) => [call]),
  alarms: table<'alarms', 'alarm'>('alarm', ({ transition }) => [transition]),
  rounds: table<'rounds', 'round-notice'>('round-notice', ({ notice }) => [
    {
      at: notice.at,
      round: notice.round,
      dueTrays: notice.due.map(({ tray }) => tray),
      canWaitTrays: notice.canWait.map(({ tray }) => tray),
      awayUntil: notice.awayUntil,
      sentence: notice.sentence,
    },
  ]),
  'round-doses': table<'round-doses', 'round-notice'>('round-notice', ({ notice: { at, round, due } }) =>
    due.map(({ hoursToRefill = {}, pourPlan, ...one }) => ({
      at,
      round,
      ...one,
      pours: pourPlan?.pours,
      pourMl: pourPlan?.pourMl,
      soakMin: pourPlan?.soakMin,
      shortMl: pourPlan?.shortMl,
      ...refillHours(hoursToRefill),
    })),
  ),
  questions: table<'questions', 'ask'>('ask', ({ at, trays, sentence }) => [
    { at, trays: [...trays], sentence },
  ]),
  answers: table<'answers', 'answer'>('answer', ({ answer: { at, ref, ok, code, sentence } }) => [
    { at, ref, ok, code, sentence },
  ]),
  notes: table<'notes', 'note'>('note', ({ at, tray, by, text, photo, undone }) => [
    { at, tray, by, undone: undone === true, text, photo },
  ]),
  'tray-events': table<'tray-events', 'tray-event'>('tray-event', (fact) => {
    const { at, tray, event, by, ...details } = fact.event;
    const told = Object.keys(details).length === 0 ? {} : { details };
    return [{ at, tray, event, by, undone: fact.undone === true, ...told }];
  }),
  'dry-downs': table<'dry-downs', 'dry-down'>('dry-down', ({ dryDown: d }) => {
    if (!('samples' in d)) return [];
    const { trayId, benchId, startedAtMs, endedAtMs, refillReachedAtMs, samples: _, ...rest } = d;
    return [
      {
        ...rest,
        startedAt: toInstant(startedAtMs),
        endedAt: toInstant(endedAtMs),
        tray: trayId,
        bench: benchId,
        refillReachedAt: instant(refillReachedAtMs),
      },
    ];
  }),
  'curve-samples': table<'curve-samples', 'dry-down'>('dry-down', ({ dryDown: d }) => {
    if (!('samples' in d)) return [];
    const { trayId, benchId, blockSideMm, startedAtMs } = d;
    const of = { startedAt: toInstant(startedAtMs), tray: trayId, bench: benchId, blockSideMm };
    return d.samples.map((sample) => ({ ...of, ...sample }));
  }),
  'probe-drifts': table<'probe-drifts', 'probe-drift'>('probe-drift', ({ probeId, atMs, driftM3PerM3 }) => [
    { at: toInstant(atMs), probe: probeId, driftM3PerM3 },
  ]),
};
