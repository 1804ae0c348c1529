import { alarmEffects, alarmKey } from '../alarms/alarm-book.js';
import { type AlarmRecord, applyAlarmEvent, releaseAlarm } from '../alarms/alarm-record.js';
import type { Desk } from '../desk.js';
import type { TakeBack } from '../desk-state.js';
import { type CommandOutcome, done, type Refused, refused } from './outcome.js';

/** What an alarm set aside a moment ago was before, for its undo. */
export function setAsideTakeBack(before: Readonly<AlarmRecord>, sinceMs: number): TakeBack {
  const { kind, of, state, callCount, calledAtMs, calledSeverity } = before;
  return { what: 'set-aside', kind, of, sinceMs, before: { state, callCount, calledAtMs, calledSeverity } };
}

/**
 * Ends shelving or out-of-service by the standard's own transition, and has the call be what it was before: one that had
 * been called is not called again, one that had been seen is seen.
 */
function unsetAside(
  desk: Desk,
  { kind, of, sinceMs, before }: Extract<TakeBack, { what: 'set-aside' }>,
  nowMs: number,
  by: string | undefined,
): CommandOutcome {
  const record = desk.state.alarms.get(alarmKey(kind, of));
  const stands = record?.state === 'shelved' || record?.state === 'out-of-service';
  if (record === undefined || !stands || record.stateSinceMs !== sinceMs)
    return refused('over-already', `${kind} ${of} is no longer set aside by that. Nothing is to be done.`);
  const effects = [...alarmEffects(desk, [releaseAlarm(record, nowMs)], nowMs, by)];
  record.callCount = before.callCount;
  record.calledAtMs = before.calledAtMs;
  record.calledSeverity = before.calledSeverity;
  if (before.state === 'acknowledged')
    effects.push(...alarmEffects(desk, [applyAlarmEvent(record, 'acknowledge', nowMs)], nowMs, by));
  return done(`Undone: ${kind} ${of} is watched again.`, effects);
}

/** Rounds that had not come yet happen, or do not, as they did before. */
export function setAbsence(desk: Desk, untilMs: number | undefined, nowMs: number): void {
  desk.state.awayUntilMs = untilMs;
  desk.state.leaving = undefined;
  for (const round of desk.state.rounds)
    if (round.roundMs > nowMs) round.skipped = untilMs !== undefined && round.roundMs < untilMs;
}

function unsetAbsence(
  desk: Desk,
  { beforeMs, afterMs }: Extract<TakeBack, { what: 'absence' }>,
  nowMs: number,
): CommandOutcome {
  if (desk.state.awayUntilMs !== afterMs)
    return refused(
      'over-already',
      'That absence is over, or another one was told since. Tell what is true now instead ("away" or "back").',
    );
  const untilMs = beforeMs !== undefined && beforeMs > nowMs ? beforeMs : undefined;
  setAbsence(desk, untilMs, nowMs);
  return done(
    untilMs === undefined
      ? 'Undone: you are not away. Rounds happen.'
      : `Undone: away until ${desk.words.time(untilMs, nowMs)}.`,
    [],
  );
}

/**
 * "Seen" stays: ANSI/ISA-18.2 and IEC 62682 know no transition by which a person leads an acknowledged alarm back to
 * unacknowledged. Shelving is their way to be called again, at its end.
 */
const seenStays: Refused = refused(
  'seen-stays',
  'What was seen stays seen: the standard for alarms (IEC 62682) knows no way back. To be called again put it off ("later"): when that time is over it calls, if it still holds.',
);

/** Takes back a command that told no event of a tray. */
export function takeBack(desk: Desk, told: TakeBack, nowMs: number, by: string | undefined): CommandOutcome {
  switch (told.what) {
    case 'seen':
      return seenStays;
    case 'set-aside':
      return unsetAside(desk, told, nowMs, by);
    case 'absence':
      return unsetAbsence(desk, told, nowMs);
  }
}
