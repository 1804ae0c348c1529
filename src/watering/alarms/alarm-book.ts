import { toInstant } from '../../../shared/base/ids.js';
import type { AlarmKind } from '../../../shared/facts/alarm.js';
import { isSetAside } from '../desk/alarm-machine.js';
import {
  type AlarmRecord,
  applyAlarmEvent,
  quietAlarm,
  resolveAlarm,
  type StateChange,
  settleCondition,
} from '../desk/alarm-record.js';
import { type Desk, standingTray } from '../desk/desk.js';
import type { DeskEffect } from '../desk/watering-desk.js';
import type { SaidPart, SaidTray } from '../sentences/said/desk-sentences.js';
import type { ToldAlarm } from '../sentences/said/told.js';

const trayKinds: ReadonlySet<AlarmKind> = new Set(['refill', 'dry', 'wet', 'cover']);

/** Kinds that concern a tray; temperature concerns a bench, the others a source. */
export function concernsTray(kind: AlarmKind): boolean {
  return trayKinds.has(kind);
}

export function alarmKey(kind: AlarmKind, of: string): string {
  return `${kind}/${of}`;
}

/** The alarm of this kind about this tray, bench or source; a quiet one is entered when there is none. */
export function alarmOf(desk: Desk, kind: AlarmKind, of: string, nowMs: number): AlarmRecord {
  const key = alarmKey(kind, of);
  const known = desk.state.alarms.get(key);
  if (known !== undefined) return known;
  const fresh = quietAlarm(kind, of, nowMs);
  desk.state.alarms.set(key, fresh);
  return fresh;
}

/** What a sentence about one of the watchman's parts rests on. */
export function partSaid(
  desk: Desk,
  record: AlarmRecord,
): Pick<SaidPart, 'sinceMs' | 'own' | 'ownSentence' | 'watches'> {
  const { kind, of, active, state, own, ownSentence } = record;
  if (concernsTray(kind) || kind === 'temperature') return {};
  const isTold = active || state === 'returned-to-normal-unacknowledged';
  const tray = desk.state.history.now.probeTray.get(of);
  const probe = kind === 'probe' ? desk.options.probes.find(({ id }) => id === of) : undefined;
  const bench = probe !== undefined && 'bench' in probe ? probe.bench : undefined;
  const watches = tray === undefined ? bench && `bench ${bench}` : `tray ${tray}`;
  return {
    ...(isTold ? { sinceMs: record.sinceMs ?? record.stateSinceMs } : {}),
    ...(own === undefined ? {} : { own }),
    ...(ownSentence === undefined ? {} : { ownSentence }),
    ...(kind !== 'probe' || watches === undefined ? {} : { watches }),
  };
}

function trayNamed(desk: Desk, trayId: string): SaidTray | undefined {
  const tray = standingTray(desk, trayId);
  if (tray === undefined) return undefined;
  const { id, benchId, blockSideMm, crop } = tray;
  return { id, benchId, blockSideMm, crop };
}

/** What the record's present state says to the world. */
export function transitionOf(desk: Desk, record: AlarmRecord, nowMs: number, by?: string): ToldAlarm {
  const where = concernsTray(record.kind)
    ? { tray: record.of }
    : record.kind === 'temperature'
      ? { bench: record.of }
      : { source: record.of };
  const { kind, of, state, reason, shelvedUntilMs } = record;
  return {
    at: toInstant(record.stateSinceMs),
    kind,
    state,
    ...where,
    ...(reason === '' ? {} : { reason }),
    ...(by === undefined ? {} : { by }),
    ...(shelvedUntilMs === undefined ? {} : { shelvedUntil: toInstant(shelvedUntilMs) }),
    said: {
      nowMs,
      holds: record.active,
      tray: concernsTray(kind) ? trayNamed(desk, of) : undefined,
      need: record.need,
      ...partSaid(desk, record),
    },
  };
}

/** Effects of changes just made; each change carries the record in the state it has reached. */
export function alarmEffects(
  desk: Desk,
  changes: readonly (StateChange | undefined)[],
  nowMs: number,
  by?: string,
): readonly DeskEffect[] {
  return changes.flatMap((change): DeskEffect[] =>
    change === undefined
      ? []
      : [
          {
            kind: 'alarm',
            transition: transitionOf(desk, { ...change.record, state: change.to }, nowMs, by),
          },
        ],
  );
}

/** The cause is gone by somebody's hand (watered, ended, uncovered): acknowledged, then normal. */
export function resolveTrayAlarms(
  desk: Desk,
  trayId: string,
  kinds: readonly AlarmKind[],
  reason: string,
  nowMs: number,
  by?: string,
): readonly DeskEffect[] {
  return kinds.flatMap((kind) => {
    const record = desk.state.alarms.get(alarmKey(kind, trayId));
    if (record === undefined || (record.state === 'normal' && !record.active)) return [];
    record.reason = reason;
    record.severity = 0;
    return alarmEffects(desk, resolveAlarm(record, nowMs), nowMs, by);
  });
}

/**
 * Somebody may have acted at a round, and nobody can tell: the alarms that people knew of by then go back to normal, for their
 * rules to raise them anew, with a new call, where the tray still needs it. What came up since is news, and stands.
 */
export function reopenTrayAlarms(
  desk: Desk,
  trayId: string,
  kinds: readonly AlarmKind[],
  roundMs: number,
  nowMs: number,
): readonly DeskEffect[] {
  return kinds.flatMap((kind) => {
    const record = desk.state.alarms.get(alarmKey(kind, trayId));
    if (record?.active !== true || isSetAside(record.state)) return [];
    if ((record.sinceMs ?? record.stateSinceMs) > roundMs) return [];
    record.reason = 'round-over';
    return alarmEffects(desk, [settleCondition(record, false, nowMs)], nowMs);
  });
}

/** Somebody has seen it; nothing happens when the alarm is not waiting for that. */
export function acknowledgeAlarm(
  desk: Desk,
  record: AlarmRecord,
  nowMs: number,
  by?: string,
): readonly DeskEffect[] {
  return alarmEffects(desk, [applyAlarmEvent(record, 'acknowledge', nowMs)], nowMs, by);
}
