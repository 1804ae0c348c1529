import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import type { TrayEvent } from '../../../shared/facts/tray-life.js';
import {
  type EventRefusal,
  emptyRegister,
  isRefusal,
  playTrayEvent,
  type RegisteredTray,
  type TrayRegister,
} from './tray-register.js';

/** Events older than this are folded into the base: nothing is told so late that it would come before them. */
const FOLD_AFTER_MS = 48 * MS_PER_HOUR;

/** The register as it was, and the events since: enough to play one that is told late where it belongs. */
export interface TrayHistory {
  readonly base: TrayRegister;
  /**
   * In the order of their time; told later but earlier in time stands where it belongs, and what is told of the time before a tray
   * was entered right after that.
   */
  readonly events: readonly TrayEvent[];
  readonly now: TrayRegister;
}

/** JSON form of a history. */
export interface TrayHistoryState {
  readonly trays: readonly RegisteredTray[];
  readonly probeTray: readonly (readonly [string, string])[];
  readonly events: readonly TrayEvent[];
}

const lifeEvents: ReadonlySet<TrayEvent['event']> = new Set([
  'new',
  'sown',
  'germinated',
  'covered',
  'uncovered',
  'moved',
  'potted-on',
  'attached',
  'ended',
]);

/** Plays events in order, leaving out those that no longer can follow. */
function play(base: TrayRegister, events: readonly TrayEvent[]): TrayRegister {
  let register = base;
  for (const event of events) {
    const outcome = playTrayEvent(register, event);
    if (!isRefusal(outcome)) register = outcome;
  }
  return register;
}

/** A history without trays, with the probes where the configuration puts them. */
export function startHistory(probeTray: readonly (readonly [string, string])[]): TrayHistory {
  const base: TrayRegister = { ...emptyRegister, probeTray: new Map(probeTray) };
  return { base, events: [], now: base };
}

/** The first place, from its own time on, at which an event can follow; the last one at the latest, where it is known to. */
function placeOf({ base, events }: TrayHistory, event: TrayEvent): number {
  const atMs = Date.parse(event.at);
  let place = events.findLastIndex((earlier) => Date.parse(earlier.at) <= atMs) + 1;
  while (place < events.length && isRefusal(playTrayEvent(play(base, events.slice(0, place)), event)))
    place++;
  return place;
}

/**
 * The history with one more event, or why it can't follow. An event told late is played at its own time; one of the time before
 * its tray was entered (germinated two days ago, in the house since an hour) as soon as the tray is there.
 */
export function recordEvent(history: TrayHistory, event: TrayEvent): TrayHistory | EventRefusal {
  const outcome = playTrayEvent(history.now, event);
  if (isRefusal(outcome)) return outcome;
  if (!lifeEvents.has(event.event)) return history;
  const place = placeOf(history, event);
  if (place === history.events.length)
    return { ...history, events: [...history.events, event], now: outcome };
  const events = history.events.toSpliced(place, 0, event);
  return { ...history, events, now: play(history.base, events) };
}

/** Folds what is old enough into the base and forgets trays that ended long ago. */
export function foldHistory(history: TrayHistory, nowMs: number): TrayHistory {
  const limitMs = nowMs - FOLD_AFTER_MS;
  const first = history.events[0];
  const ended = [...history.base.trays.values()].some((tray) => (tray.endedAtMs ?? nowMs) < limitMs);
  if ((first === undefined || Date.parse(first.at) >= limitMs) && !ended) return history;
  const kept = history.events.findIndex((event) => Date.parse(event.at) >= limitMs);
  const count = kept < 0 ? history.events.length : kept;
  const played = play(history.base, history.events.slice(0, count));
  const trays = new Map([...played.trays].filter(([, tray]) => (tray.endedAtMs ?? nowMs) >= limitMs));
  const base = { ...played, trays };
  const events = history.events.slice(count);
  return { base, events, now: play(base, events) };
}

export function historyState(history: TrayHistory): TrayHistoryState {
  return {
    trays: [...history.base.trays.values()],
    probeTray: [...history.base.probeTray],
    events: history.events,
  };
}

export function historyFromState(state: TrayHistoryState): TrayHistory {
  const base: TrayRegister = {
    trays: new Map(state.trays.map((tray) => [tray.id, tray])),
    probeTray: new Map(state.probeTray),
  };
  return { base, events: state.events, now: play(base, state.events) };
}
