import { MS_PER_MIN } from '../../shared/base/time-units.js';
import type { AlarmKind } from '../../shared/facts/alarm.js';
import { moistureIndex, type TrayForecast } from '../drying/model/tray-forecast.js';
import { trayVolumeMl } from '../drying/physics/tray-geometry.js';
import { alarmEffects, alarmKey, alarmOf, concernsTray } from './alarms/alarm-book.js';
import { makeCalls } from './calls/make-calls.js';
import { forgetOldTest } from './commands/test-call-commands.js';
import { alarmDelays, type Condition } from './conditions/condition.js';
import { healthConditions, temperatureConditions } from './conditions/house-conditions.js';
import { outlookOf } from './conditions/round-outlook.js';
import { coverCondition, noteWetness, wetCondition } from './conditions/tray-conditions.js';
import { type WaterConditions, waterConditions } from './conditions/water-conditions.js';
import {
  type AlarmRecord,
  applyAlarmEvent,
  isMet,
  isQuiet,
  observeCondition,
  releaseAlarm,
  type StateChange,
} from './desk/alarm-record.js';
import { type Desk, standingTray, standingTrays } from './desk/desk.js';
import { memoryOf } from './desk/desk-state.js';
import { carryShortfall, type HeldWater } from './desk/shortfall.js';
import { foldHistory } from './desk/tray-history.js';
import type { RegisteredTray } from './desk/tray-register.js';
import type { DeskEffect, DeskView } from './desk/watering-desk.js';
import { comingRounds } from './rounds/coming-rounds.js';
import { saidTray } from './rounds/said-tray.js';
import { settleRounds } from './rounds/settle-round.js';
import { writeNotice } from './rounds/write-notice.js';
import type { SaidNeed } from './sentences/said/desk-sentences.js';
import { coverDoubt } from './trays/cover-doubt.js';
import { meanDryWithin } from './trays/tray-risk.js';

const healthKinds: ReadonlySet<AlarmKind> = new Set(['probe', 'board', 'monitor', 'store', 'broker']);

/** Trays that may need a call of their own before the coming round come with the first one: one walk serves all. */
function joined(
  trays: readonly WaterConditions[],
  isNews: (condition: Condition) => boolean,
): readonly Condition[] {
  const called = trays.some(({ refill, dry }) => isNews(refill) || isNews(dry));
  return trays.flatMap(({ refill, dry, joins }) => [
    called && joins ? { ...refill, raw: 'on' as const } : refill,
    dry,
  ]);
}

/** What the model says of a tray, as doubts of it are reckoned. */
function heldWater(tray: RegisteredTray, forecast: TrayForecast, doubt: number): HeldWater {
  const spanM3PerM3 = forecast.containerCapacityM3PerM3 - forecast.refillPointM3PerM3;
  return {
    index: moistureIndex(forecast),
    dry: meanDryWithin(forecast, 0, doubt),
    spanMl: spanM3PerM3 * trayVolumeMl(tray),
  };
}

function trayRules(desk: Desk, view: DeskView): readonly Condition[] {
  const outlook = outlookOf(desk, view);
  const { coverDoubtedAfterDays } = desk.options.notices;
  const water: WaterConditions[] = [];
  const conditions: Condition[] = [];
  for (const tray of standingTrays(desk)) {
    conditions.push(coverCondition(desk, tray, view.nowMs));
    const forecast = view.forecasts.get(tray.id);
    if (forecast === undefined) continue;
    const doubt = coverDoubt(tray, forecast.basis === 'probe', coverDoubtedAfterDays, view.nowMs);
    const memory = memoryOf(desk.state, tray.id);
    carryShortfall(memory, heldWater(tray, forecast, doubt));
    noteWetness(memory, tray, forecast, view.nowMs);
    water.push(waterConditions(desk, tray, forecast, outlook, doubt));
    conditions.push(wetCondition(desk, tray, view.nowMs));
  }
  const isNews = (condition: Condition): boolean =>
    condition.raw === 'on' && desk.state.alarms.get(alarmKey(condition.kind, condition.of))?.active !== true;
  conditions.push(...joined(water, isNews));
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
  const stillClearing = record.active && condition.raw !== 'on';
  return record.state === 'suppressed-by-design' && !stillClearing ? releaseAlarm(record, nowMs) : undefined;
}

/** What the sentence of an alarm rests on, while its condition holds. */
function needOf(desk: Desk, condition: Condition, view: DeskView): SaidNeed | undefined {
  const { kind, of } = condition;
  if (kind === 'temperature') return { temperatureC: view.temperatureC.get(of) };
  const tray = standingTray(desk, of);
  const forecast = view.forecasts.get(of);
  if (!concernsTray(kind) || tray === undefined || forecast === undefined) return undefined;
  const { doseMl, pourPlan, dryAtMs, earliestDryAtMs } = saidTray(
    desk,
    tray,
    forecast,
    view.nowMs,
    view.nowMs,
  );
  return {
    doseMl,
    pourPlan,
    dryAtMs,
    earliestDryAtMs,
    comingRoundMs: comingRounds(desk, view, view.nowMs, 1)[0],
  };
}

function step(desk: Desk, condition: Condition, view: DeskView): readonly StateChange[] {
  const { nowMs } = view;
  const known = desk.state.alarms.get(alarmKey(condition.kind, condition.of));
  if (known === undefined && !isMet(condition.raw)) return [];
  const record = known ?? alarmOf(desk, condition.kind, condition.of, nowMs);
  const isRemembered = record.state === 'returned-to-normal-unacknowledged';
  if (condition.raw === 'on' || !(record.active || isRemembered)) {
    if (record.reason !== condition.reason || !record.active) {
      record.own = condition.own;
      record.ownSentence = undefined;
    }
    record.reason = condition.reason;
  }
  if (condition.raw === 'on') record.need = needOf(desk, condition, view);
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
  forgetOldTest(desk, nowMs);
  desk.state.history = foldHistory(desk.state.history, nowMs);
  for (const trayId of desk.state.memory.keys())
    if (!desk.state.history.now.trays.has(trayId)) desk.state.memory.delete(trayId);
}

/** The return from an absence is a round of its own: its notice goes out as far ahead as any. */
function noticeOfReturn(desk: Desk, view: DeskView): readonly DeskEffect[] {
  const untilMs = desk.state.awayUntilMs;
  if (untilMs === undefined || view.nowMs < untilMs - desk.options.notices.leadMin * MS_PER_MIN) return [];
  const isRound = view.rounds.after(untilMs - 1, 1)[0] === untilMs;
  const noticed = desk.state.rounds.some((round) => round.roundMs === untilMs);
  return isRound || noticed ? [] : writeNotice(desk, untilMs, view);
}

/** Looks at everything once: settles rounds, moves every alarm, and calls people where something is theirs to do. */
export function decide(desk: Desk, view: DeskView): readonly DeskEffect[] {
  const { nowMs } = view;
  if (desk.state.awayUntilMs !== undefined && desk.state.awayUntilMs <= nowMs)
    desk.state.awayUntilMs = undefined;
  const settled = [...settleRounds(desk, view), ...noticeOfReturn(desk, view)];
  const conditions = [
    ...trayRules(desk, view),
    ...temperatureConditions(desk, view),
    ...healthConditions(desk, view),
    ...unreportedParts(desk, view),
  ];
  const changes = [
    ...endOfShelving(desk, nowMs),
    ...conditions.flatMap((condition) => step(desk, condition, view)),
  ];
  const effects = [...settled, ...alarmEffects(desk, changes, nowMs), ...makeCalls(desk, view)];
  forget(desk, nowMs);
  return effects;
}
