import { toInstant } from '../../../shared/base/ids.js';
import { MS_PER_DAY } from '../../../shared/base/time-units.js';
import type { TrayEvent } from '../../../shared/facts/tray-life.js';
import { acknowledgeAlarm, alarmKey, resolveTrayAlarms } from '../alarms/alarm-book.js';
import { type Desk, standingTray } from '../desk/desk.js';
import { memoryOf, type TrayMemory } from '../desk/desk-state.js';
import { hasRow, lastWateredMs, type PourOutcome, tellPour } from '../desk/pour-ledger.js';
import { doubtPour } from '../desk/shortfall.js';
import { recordEvent } from '../desk/tray-history.js';
import type { DeskEffect } from '../desk/watering-desk.js';
import { askedForLessMl } from './asked-for-less.js';
import { asksAreFollowed } from './asks-are-followed.js';
import { eventRefusal } from './event-refusals.js';

/** A watering told later than this does not end an alarm that stands now. */
const STILL_TELLING_MS = MS_PER_DAY;
/** Steps of the five-step scale at which a tray is evidently not dry: full, saturated. */
const LOOKS_FULL = 4;

/** The effects of one tray event; `pour` says what a told watering turned out to be. */
export interface AppliedEvent {
  readonly effects: readonly DeskEffect[];
  readonly pour?: PourOutcome | undefined;
}

function applyWatering(
  desk: Desk,
  event: Extract<TrayEvent, { event: 'watered' }>,
  nowMs: number,
): AppliedEvent {
  const memory = memoryOf(desk.state, event.tray);
  const atMs = Date.parse(event.at);
  const entry = tellPour(memory.pours, { atMs, by: event.by, ml: event.ml });
  memory.pours = entry.pours;
  memory.perhaps = undefined;
  memory.leftOutAtMs = undefined;
  memory.missedRoundMs = undefined;
  if (entry.outcome === 'new')
    doubtPour(memory, asksAreFollowed(desk, event.tray, atMs), { toldMl: event.ml });
  const { pour } = entry;
  const asked = event.ml === undefined ? askedForLessMl(desk, event.tray, atMs) : undefined;
  const ml = pour.source === 'detected' ? pour.takenUpMl : event.ml;
  return {
    pour: entry.outcome,
    effects: [
      { kind: 'tray-event', event },
      {
        kind: 'watering',
        watering: {
          at: toInstant(pour.atMs),
          tray: event.tray,
          source: pour.source,
          ...(ml === undefined ? {} : { ml }),
          ...(asked === undefined || pour.source === 'detected' ? {} : { askedMl: asked }),
          ...(pour.takenUpMl === undefined ? {} : { takenUpMl: pour.takenUpMl }),
          ...(event.by === undefined ? {} : { by: event.by }),
          ...(entry.outcome === 'known-from-probe' ? { amends: true as const } : {}),
        },
      },
      ...(nowMs - atMs > STILL_TELLING_MS
        ? []
        : resolveTrayAlarms(desk, event.tray, ['refill', 'dry'], 'watered', nowMs, event.by)),
    ],
  };
}

/** It tells how the tray was before it was, or perhaps was, watered: nothing that stands now ends with it. */
function isOutdated(memory: TrayMemory, event: TrayEvent): boolean {
  const wateredMs = Math.max(
    lastWateredMs(memory.pours) ?? Number.NEGATIVE_INFINITY,
    memory.perhaps?.atMs ?? Number.NEGATIVE_INFINITY,
  );
  return Date.parse(event.at) < wateredMs;
}

function consequences(desk: Desk, event: TrayEvent, nowMs: number): readonly DeskEffect[] {
  const trayId = event.tray;
  const memory = memoryOf(desk.state, trayId);
  switch (event.event) {
    case 'new':
      desk.state.memory.delete(trayId);
      return [];
    case 'potted-on':
    case 'ended':
      return resolveTrayAlarms(desk, trayId, ['refill', 'dry', 'wet', 'cover'], event.event, nowMs, event.by);
    case 'covered':
    case 'uncovered':
      return resolveTrayAlarms(desk, trayId, ['cover'], event.event, nowMs, event.by);
    case 'looked':
      if (isOutdated(memory, event)) return [];
      memory.perhaps = undefined;
      memory.shortfall = undefined;
      return event.level >= LOOKS_FULL
        ? resolveTrayAlarms(desk, trayId, ['refill', 'dry'], 'looked-wet', nowMs, event.by)
        : [];
    case 'weighed':
      if (isOutdated(memory, event)) return [];
      memory.perhaps = undefined;
      memory.shortfall = undefined;
      return [];
    case 'ready-for-water':
      if (isOutdated(memory, event)) return [];
      memory.perhaps = undefined;
      memory.readyAtMs = Date.parse(event.at);
      return (['refill', 'dry'] as const).flatMap((kind) => {
        const record = desk.state.alarms.get(alarmKey(kind, trayId));
        return record === undefined ? [] : acknowledgeAlarm(desk, record, nowMs, event.by);
      });
    case 'sown':
    case 'germinated':
    case 'moved':
    case 'attached':
    case 'watered':
      return [];
  }
}

/** Plays a row of the grower's log; the same row twice is one. */
export function applyLogRow(desk: Desk, row: TrayEvent, nowMs: number): readonly DeskEffect[] {
  const isKnown =
    row.event === 'watered' &&
    hasRow(desk.state.memory.get(row.tray)?.pours ?? [], { ...row, atMs: Date.parse(row.at) });
  return isKnown ? [] : applyTrayEvent(desk, row, nowMs).effects;
}

/** Plays one event of a tray's life and what follows from it; a refused one changes nothing and says why. */
export function applyTrayEvent(desk: Desk, event: TrayEvent, nowMs: number): AppliedEvent {
  const outcome = recordEvent(desk.state.history, event);
  if ('refused' in outcome) {
    const said = eventRefusal(outcome.code, event, standingTray(desk, event.tray), desk);
    return { effects: [{ kind: 'event-refused', event, code: outcome.code, said }] };
  }
  desk.state.history = outcome;
  if (event.event === 'watered') return applyWatering(desk, event, nowMs);
  return { effects: [{ kind: 'tray-event', event }, ...consequences(desk, event, nowMs)] };
}
