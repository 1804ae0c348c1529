import type { AlarmKind } from '../../shared/alarm.js';
import { alarmEffects, alarmKey, alarmOf } from './alarms/alarm-book.js';
import {
  type AlarmRecord,
  applyAlarmEvent,
  isQuiet,
  observeCondition,
  releaseAlarm,
  type StateChange,
} from './alarms/alarm-record.js';
import { makeCalls } from './calls/make-calls.js';
import { alarmDelays, type Condition } from './conditions/condition.js';
import { healthConditions, temperatureConditions } from './conditions/house-conditions.js';
import { coverCondition, wetCondition } from './conditions/tray-conditions.js';
import { type RoundOutlook, type WaterConditions, waterConditions } from './conditions/water-conditions.js';
import { type Desk, standingTrays } from './desk.js';
import { comingRounds } from './rounds/coming-rounds.js';
import { settleRounds } from './rounds/settle-round.js';
import { coverDoubt } from './trays/cover-doubt.js';
import { foldHistory } from './trays/tray-history.js';
import type { DeskEffect, DeskView } from './watering-desk.js';

const healthKinds: ReadonlySet<AlarmKind> = new Set(['probe', 'board', 'monitor', 'store', 'broker']);

function outlookOf(desk: Desk, view: DeskView): RoundOutlook {
  const comingMs = comingRounds(desk, view, view.nowMs, 1)[0] ?? view.nowMs;
  const noticed = desk.state.rounds.find((round) => round.roundMs === comingMs);
  return { nowMs: view.nowMs, comingMs, listed: new Set(noticed?.due ?? []) };
}

/** A bench that people are called to anyway: its trays that are nearly as far are called with it. */
function joined(
  bench: readonly WaterConditions[],
  isNews: (condition: Condition) => boolean,
): readonly Condition[] {
  const walks = bench.some(({ refill, dry }) => isNews(refill) || isNews(dry));
  return bench.flatMap(({ refill, dry, joins }) => [
    walks && joins && refill.raw === 'between' ? { ...refill, raw: 'on' as const } : refill,
    dry,
  ]);
}

function trayRules(desk: Desk, view: DeskView): readonly Condition[] {
  const outlook = outlookOf(desk, view);
  const { coverDoubtedAfterDays } = desk.options.notices;
  const byBench = new Map<string, WaterConditions[]>();
  const conditions: Condition[] = [];
  for (const tray of standingTrays(desk)) {
    conditions.push(coverCondition(desk, tray, view.nowMs));
    const forecast = view.forecasts.get(tray.id);
    if (forecast === undefined) continue;
    const doubt = coverDoubt(tray, forecast.basis === 'probe', coverDoubtedAfterDays, view.nowMs);
    const bench = byBench.get(tray.benchId) ?? [];
    bench.push(waterConditions(desk, tray, forecast, outlook, doubt));
    byBench.set(tray.benchId, bench);
    conditions.push(wetCondition(desk, tray, forecast, view.nowMs));
  }
  const isNews = (condition: Condition): boolean =>
    condition.raw === 'on' && desk.state.alarms.get(alarmKey(condition.kind, condition.of))?.active !== true;
  for (const bench of byBench.values()) conditions.push(...joined(bench, isNews));
  return conditions;
}

/** Parts that are no longer reported are taken to be well. */
function unreportedParts(desk: Desk, view: DeskView): readonly Condition[] {
  const reported = new Set(view.health.map((part) => alarmKey(part.kind, part.source)));
  return [...desk.state.alarms.values()].flatMap((record): Condition[] =>
    healthKinds.has(record.kind) && !reported.has(alarmKey(record.kind, record.of))
      ? [{ kind: record.kind, of: record.of, raw: 'off', reason: 'not-reported', severity: 0 }]
      : [],
  );
}

/** Suppression by design: entered only by an alarm that would otherwise speak, left when the design allows it again. */
function suppress(record: AlarmRecord, condition: Condition, nowMs: number): StateChange | undefined {
  if (condition.suppressed === true)
    return condition.raw === 'on' || record.active ? applyAlarmEvent(record, 'suppress', nowMs) : undefined;
  return record.state === 'suppressed-by-design' ? releaseAlarm(record, nowMs) : undefined;
}

function step(desk: Desk, condition: Condition, nowMs: number): readonly StateChange[] {
  const known = desk.state.alarms.get(alarmKey(condition.kind, condition.of));
  if (known === undefined && condition.raw !== 'on') return [];
  const record = known ?? alarmOf(desk, condition.kind, condition.of, nowMs);
  if (condition.raw === 'on' || !record.active) record.reason = condition.reason;
  record.severity = condition.severity;
  const changes = [
    suppress(record, condition, nowMs),
    observeCondition(record, condition.raw, alarmDelays[condition.kind], nowMs),
  ].filter((change) => change !== undefined);
  if (isQuiet(record)) desk.state.alarms.delete(alarmKey(record.kind, record.of));
  return changes;
}

function endOfShelving(desk: Desk, nowMs: number): readonly StateChange[] {
  return [...desk.state.alarms.values()].flatMap((record) => {
    if (record.state !== 'shelved' || record.shelvedUntilMs === undefined || record.shelvedUntilMs > nowMs)
      return [];
    const change = releaseAlarm(record, nowMs);
    return change === undefined ? [] : [change];
  });
}

function forget(desk: Desk, nowMs: number): void {
  desk.state.history = foldHistory(desk.state.history, nowMs);
  for (const trayId of desk.state.memory.keys())
    if (!desk.state.history.now.trays.has(trayId)) desk.state.memory.delete(trayId);
}

/** Looks at everything once: settles rounds, moves every alarm, and calls people where something is theirs to do. */
export function decide(desk: Desk, view: DeskView): readonly DeskEffect[] {
  const { nowMs } = view;
  if (desk.state.awayUntilMs !== undefined && desk.state.awayUntilMs <= nowMs)
    desk.state.awayUntilMs = undefined;
  const settled = settleRounds(desk, view);
  const conditions = [
    ...trayRules(desk, view),
    ...temperatureConditions(desk, view),
    ...healthConditions(view),
    ...unreportedParts(desk, view),
  ];
  const changes = [
    ...endOfShelving(desk, nowMs),
    ...conditions.flatMap((condition) => step(desk, condition, nowMs)),
  ];
  const effects = [...settled, ...alarmEffects(desk, changes, nowMs), ...makeCalls(desk, view)];
  forget(desk, nowMs);
  return effects;
}
