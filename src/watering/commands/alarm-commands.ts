import { DAYS_PER_WEEK, MS_PER_DAY } from '../../../shared/base/time-units.js';
import type { AlarmKind } from '../../../shared/facts/alarm.js';
import type { Command } from '../../../shared/wire/command.js';
import { acknowledgeAlarm, alarmEffects, alarmKey, alarmOf, concernsTray } from '../alarms/alarm-book.js';
import { type AlarmRecord, applyAlarmEvent, releaseAlarm } from '../desk/alarm-record.js';
import { type Desk, standingTray } from '../desk/desk.js';
import type { DeskView } from '../desk/watering-desk.js';
import { type CommandOutcome, done, type Refused, refused } from './outcome.js';
import { seeTest } from './test-call-commands.js';

const waitingStates: ReadonlySet<AlarmRecord['state']> = new Set([
  'unacknowledged',
  'returned-to-normal-unacknowledged',
]);

/** "Seen": one call, all of a kind, all about one thing, or everything that waits; when nothing does, a test call. */
export function acknowledgeCommand(
  desk: Desk,
  command: Extract<Command, { do: 'acknowledge' }>,
  nowMs: number,
): CommandOutcome {
  const { kind, of, by } = command;
  const meant = [...desk.state.alarms.values()].filter(
    (record) => (kind === undefined || record.kind === kind) && (of === undefined || record.of === of),
  );
  const waits = meant.filter((record) => waitingStates.has(record.state));
  if (waits.length === 0 && kind === undefined && of === undefined) {
    const test = seeTest(desk, undefined, by, nowMs);
    if (test !== undefined) return done(['testSeen', undefined], [test]);
  }
  if (waits.length === 0) return refused('not-active', ['noneToSee', kind, of]);
  const effects = waits.flatMap((record) => acknowledgeAlarm(desk, record, nowMs, by));
  return done(['seen', waits], effects);
}

/** Refused where there is no such tray, bench or source that an alarm of this kind could concern. */
function unknownSubject(desk: Desk, kind: AlarmKind, of: string, view: DeskView): Refused | undefined {
  if (desk.state.alarms.has(alarmKey(kind, of))) return undefined;
  const known = concernsTray(kind)
    ? standingTray(desk, of) !== undefined
    : kind === 'temperature'
      ? desk.options.benches.some(({ id }) => id === of)
      : view.health.some((part) => part.kind === kind && part.source === of) ||
        (kind === 'probe' && desk.options.probes.some(({ id }) => id === of));
  return known ? undefined : refused('unknown-alarm', ['noSuchAlarm', kind, of]);
}

type SetAside = Extract<Command, { do: 'shelve' | 'out-of-service' }>;

/** "Later, until": put off with an end; "out of service": switched off until somebody switches it on. */
export function setAsideCommand(desk: Desk, command: SetAside, view: DeskView): CommandOutcome {
  const { kind, of, by } = command;
  const { nowMs } = view;
  const unknown = unknownSubject(desk, kind, of, view);
  if (unknown !== undefined) return unknown;
  // Nothing is put off for longer than a week.
  const untilMs = command.do === 'shelve' ? Date.parse(command.until) : undefined;
  if (untilMs !== undefined && untilMs <= nowMs)
    return refused('until-in-past', ['untilInPast', untilMs, nowMs]);
  if (untilMs !== undefined && untilMs > nowMs + DAYS_PER_WEEK * MS_PER_DAY)
    return refused('until-too-far', ['shelvedTooLong', DAYS_PER_WEEK]);
  const standing = desk.state.alarms.get(alarmKey(kind, of));
  const record = standing ?? alarmOf(desk, kind, of, nowMs);
  const change = applyAlarmEvent(record, command.do === 'shelve' ? 'shelve' : 'take-out-of-service', nowMs);
  if (change === undefined) return refused('set-aside-already', ['setAsideAlready', kind, of, record.state]);
  record.shelvedUntilMs = untilMs;
  return done(['setAside', kind, of, untilMs, nowMs], alarmEffects(desk, [change], nowMs, by));
}

/** Ends shelving or out-of-service early. */
export function releaseCommand(
  desk: Desk,
  command: Extract<Command, { do: 'unshelve' | 'in-service' }>,
  nowMs: number,
): CommandOutcome {
  const { kind, of, by } = command;
  const record = desk.state.alarms.get(alarmKey(kind, of));
  const wanted = command.do === 'unshelve' ? 'shelved' : 'out-of-service';
  if (record?.state !== wanted) return refused(`not-${wanted}`, ['notSetAside', kind, of, wanted]);
  return done(['watchedAgain', kind, of], alarmEffects(desk, [releaseAlarm(record, nowMs)], nowMs, by));
}
