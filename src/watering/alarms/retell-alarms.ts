import { toInstant } from '../../../shared/base/ids.js';
import { wayBetween } from '../desk/alarm-machine.js';
import { type AlarmRecord, quietAlarm } from '../desk/alarm-record.js';
import type { Desk } from '../desk/desk.js';
import type { DeskEffect } from '../desk/watering-desk.js';
import type { ToldAlarm } from '../sentences/said/told.js';
import { alarmKey, transitionOf } from './alarm-book.js';

/** Reason of an alarm that is over because what had raised it was taken back. */
const TAKEN_BACK = 'taken-back';

function keyOf({ kind, tray, bench, source }: ToldAlarm): string {
  return alarmKey(kind, tray ?? bench ?? source ?? '');
}

/**
 * How alarms stand now, told to people who know how they stood in a past that was not: each is led there by the standard's own
 * transitions. Changes nothing.
 * @param before the newest transition of every alarm that was not normal
 */
export function retellAlarms(
  desk: Desk,
  before: readonly ToldAlarm[],
  nowMs: number,
  by?: string,
): readonly DeskEffect[] {
  const known = new Map(before.map((transition) => [keyOf(transition), transition]));
  const records = new Map<string, AlarmRecord>(desk.state.alarms);
  for (const [key, { kind, tray, bench, source }] of known)
    if (!records.has(key))
      records.set(key, {
        ...quietAlarm(kind, tray ?? bench ?? source ?? '', nowMs),
        reason: TAKEN_BACK,
      });
  return [...records].flatMap(([key, record]): DeskEffect[] => {
    const from = known.get(key)?.state ?? 'normal';
    const shelvedUntil = known.get(key)?.shelvedUntil;
    const isSameEnd =
      record.state !== 'shelved' ||
      shelvedUntil === undefined ||
      Date.parse(shelvedUntil) === record.shelvedUntilMs;
    if (from === record.state && isSameEnd) return [];
    return wayBetween(from, record.state).map((state) => ({
      kind: 'alarm',
      transition: {
        ...transitionOf(desk, { ...record, state, stateSinceMs: nowMs }, nowMs, by),
        at: toInstant(nowMs),
      },
    }));
  });
}
