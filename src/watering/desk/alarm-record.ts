import type { AlarmKind, AlarmState } from '../../../shared/facts/alarm.js';
import type { SaidNeed } from '../sentences/said/desk-sentences.js';
import type { Said } from '../sentences/said/said.js';
import { type AlarmEvent, isSetAside, nextAlarmState } from './alarm-machine.js';

/** One alarm that is standing, or whose condition is on its way on or off. JSON-able. */
export interface AlarmRecord {
  readonly kind: AlarmKind;
  /** The tray, bench or source it concerns. */
  readonly of: string;
  state: AlarmState;
  stateSinceMs: number;
  /** The condition after its delays; kept up to date while the alarm is set aside too. */
  active: boolean;
  /** Since when the raw condition has differed from `active` without a break. */
  differsSinceMs?: number | undefined;
  reason: string;
  /** Since when the condition has held, before its delay; kept for a while after it ended. */
  sinceMs?: number | undefined;
  /** What a part of the watchman said of itself when this reason came up; a sentence where an earlier version kept it. */
  own?: Said | undefined;
  ownSentence?: string | undefined;
  /** What its sentence says beside who it is about, as of when the condition last held. */
  need?: SaidNeed | undefined;
  /** How bad, rising, in the unit of the kind; only compared with itself. */
  severity: number;
  shelvedUntilMs?: number | undefined;
  /** The last call about it, how many so far, and how bad it was then. */
  calledAtMs?: number | undefined;
  callCount: number;
  calledSeverity: number;
  /** A call about it waits for the end of the quiet hours. */
  heldInQuiet?: boolean | undefined;
}

/** How long a condition must hold before it counts (on-delay), and be gone before it is over (off-delay). */
export interface AlarmDelays {
  readonly onDelayMs: number;
  readonly offDelayMs: number;
}

/**
 * Raw condition: `between` is the deadband, where nothing changes and delays start anew. `coming` would be `on` but for something
 * that may still help: nothing is raised, but the on-delay runs.
 */
export type RawCondition = 'on' | 'coming' | 'off' | 'between';

/** True where the condition is met, whether or not it may be said yet. */
export function isMet(raw: RawCondition): boolean {
  return raw === 'on' || raw === 'coming';
}

export interface StateChange {
  readonly record: AlarmRecord;
  readonly from: AlarmState;
  readonly to: AlarmState;
}

/** A record for an alarm that is normal and quiet. */
export function quietAlarm(kind: AlarmKind, of: string, nowMs: number): AlarmRecord {
  return {
    kind,
    of,
    state: 'normal',
    stateSinceMs: nowMs,
    active: false,
    reason: '',
    severity: 0,
    callCount: 0,
    calledSeverity: 0,
  };
}

/** True when nothing would be lost by forgetting the record. */
export function isQuiet(record: AlarmRecord): boolean {
  return record.state === 'normal' && !record.active && record.differsSinceMs === undefined;
}

/** Applies one event of the machine; undefined when it means nothing in this state. */
export function applyAlarmEvent(
  record: AlarmRecord,
  event: AlarmEvent,
  nowMs: number,
): StateChange | undefined {
  const from = record.state;
  const to = nextAlarmState(from, event);
  if (to === undefined) return undefined;
  record.state = to;
  record.stateSinceMs = nowMs;
  if (to !== 'shelved') record.shelvedUntilMs = undefined;
  if (to === 'unacknowledged') {
    record.callCount = 0;
    record.calledAtMs = undefined;
    record.calledSeverity = 0;
    record.heldInQuiet = undefined;
  }
  return { record, from, to };
}

/** Runs on- and off-delay on a raw condition and returns the change of state that follows, if one does. */
export function observeCondition(
  record: AlarmRecord,
  raw: RawCondition,
  delays: AlarmDelays,
  nowMs: number,
): StateChange | undefined {
  const differs = raw !== 'between' && isMet(raw) !== record.active;
  if (!differs) {
    record.differsSinceMs = undefined;
    return undefined;
  }
  record.differsSinceMs ??= nowMs;
  const delayMs = isMet(raw) ? delays.onDelayMs : delays.offDelayMs;
  if (raw === 'coming' || nowMs - record.differsSinceMs < delayMs) return undefined;
  if (raw === 'on') record.sinceMs = record.differsSinceMs;
  return settleCondition(record, raw === 'on', nowMs);
}

/** Sets the condition at once, without a delay. */
export function settleCondition(
  record: AlarmRecord,
  active: boolean,
  nowMs: number,
): StateChange | undefined {
  record.active = active;
  record.differsSinceMs = undefined;
  if (isSetAside(record.state)) return undefined;
  return applyAlarmEvent(record, active ? 'condition-on' : 'condition-off', nowMs);
}

/** Ends shelving, suppression or out-of-service: normal if clear, else unacknowledged. */
export function releaseAlarm(record: AlarmRecord, nowMs: number): StateChange | undefined {
  return applyAlarmEvent(record, record.active ? 'release-active' : 'release-clear', nowMs);
}

/**
 * The operator's response has removed the cause (a watering): acknowledged, then normal. An alarm that is set aside
 * stays so, with its condition clear.
 */
export function resolveAlarm(record: AlarmRecord, nowMs: number): readonly StateChange[] {
  const changes: StateChange[] = [];
  if (record.state === 'unacknowledged' || record.state === 'returned-to-normal-unacknowledged') {
    const seen = applyAlarmEvent(record, 'acknowledge', nowMs);
    if (seen !== undefined) changes.push(seen);
  }
  const cleared = settleCondition(record, false, nowMs);
  if (cleared !== undefined) changes.push(cleared);
  return changes;
}
