import { toInstant } from '../../../shared/base/ids.js';
import type { ModelEvent } from '../../drying/model/farm-model.js';
import { trayVolumeMl } from '../../drying/physics/tray-geometry.js';
import { resolveTrayAlarms } from '../alarms/alarm-book.js';
import { type Desk, standingTray } from '../desk/desk.js';
import { memoryOf, type TrayMemory } from '../desk/desk-state.js';
import { beginPour, noticePour, type PourEntry } from '../desk/pour-ledger.js';
import { doubtPour, shownFilled } from '../desk/shortfall.js';
import type { RegisteredTray } from '../desk/tray-register.js';
import type { DeskEffect, DeskView } from '../desk/watering-desk.js';
import { ROUND_TOLD_WITHIN_MS } from './asked-for-less.js';
import { asksAreFollowed } from './asks-are-followed.js';

/** An alarm ends with a watering, and a flicker is none: a rise of the moisture index by this much (science notes, section 8). */
const WATERED_RISE_INDEX = 0.15;
/** Amounts below this teach nothing about uptake, mL. */
const TEACHES_FROM_ML = 50;
/** One filling may pull the learned uptake no further than a factor of two. */
const MOST_LOG = Math.LN2;
const REMEMBERED_FILLINGS = 12;

function learnUptake(memory: TrayMemory, atMs: number, takenUpMl: number): void {
  const missing = memory.missingMlAtNotice;
  if (missing === undefined || missing.ml < TEACHES_FROM_ML || takenUpMl <= 0) return;
  if (atMs < missing.atMs || atMs - missing.atMs > ROUND_TOLD_WITHIN_MS) return;
  const log = Math.max(-MOST_LOG, Math.min(MOST_LOG, Math.log(takenUpMl / missing.ml)));
  const count = Math.min(memory.uptake.count + 1, REMEMBERED_FILLINGS);
  memory.uptake = { logMean: memory.uptake.logMean + (log - memory.uptake.logMean) / count, count };
}

/** A tray of which something was noticed. */
interface Noticed {
  readonly desk: Desk;
  readonly tray: RegisteredTray;
  readonly memory: TrayMemory;
  readonly view: DeskView;
}

/** The tray was watered: whatever was doubted or missed about that is settled. */
function enter(memory: TrayMemory, { pours }: PourEntry): void {
  memory.pours = pours;
  memory.perhaps = undefined;
  memory.missedRoundMs = undefined;
}

/** The refill and dry alarms end when blocks were filled, or have taken up enough, m³/m³, not to be a flicker. */
function alarmsEnd(
  { desk, tray, view }: Noticed,
  takenUpM3PerM3: number,
  filled: boolean,
): readonly DeskEffect[] {
  const forecast = view.forecasts.get(tray.id);
  const rise =
    forecast === undefined
      ? 1
      : takenUpM3PerM3 / (forecast.containerCapacityM3PerM3 - forecast.refillPointM3PerM3);
  return filled || rise >= WATERED_RISE_INDEX
    ? resolveTrayAlarms(desk, tray.id, ['refill', 'dry'], 'watered', view.nowMs)
    : [];
}

function wateringTold(tray: RegisteredTray, { outcome, pour }: PourEntry): DeskEffect {
  const ml = pour.source === 'detected' ? pour.takenUpMl : pour.told?.ml;
  return {
    kind: 'watering',
    watering: {
      at: toInstant(pour.atMs),
      tray: tray.id,
      source: pour.source,
      ...(ml === undefined ? {} : { ml }),
      ...(pour.takenUpMl === undefined ? {} : { takenUpMl: pour.takenUpMl }),
      ...(pour.told?.by === undefined ? {} : { by: pour.told.by }),
      ...(outcome === 'new' ? {} : { amends: true as const }),
    },
  };
}

/** A probe begins to show a watering, long before it is known how much: it is told, and alarms end. */
function wateringBegins(
  noticed: Noticed,
  event: Extract<ModelEvent, { kind: 'watering-begun' }>,
): readonly DeskEffect[] {
  const { desk, tray, memory } = noticed;
  const atMs = Math.round(event.atMs);
  const entry = beginPour(memory.pours, atMs);
  enter(memory, entry);
  memory.rising = { sinceMs: atMs };
  if (entry.outcome === 'new')
    doubtPour(memory, asksAreFollowed(desk, tray.id, atMs), {
      shownMl: event.risenM3PerM3 * trayVolumeMl(tray),
    });
  return [
    ...(entry.outcome === 'new' ? [wateringTold(tray, entry)] : []),
    ...alarmsEnd(noticed, event.risenM3PerM3, false),
  ];
}

/** A watering that a probe has shown is over: reconciled with what was told, learned from, and alarms end. */
function wateringEnds(
  noticed: Noticed,
  event: Extract<ModelEvent, { kind: 'watering-detected' }>,
): readonly DeskEffect[] {
  const { desk, tray, memory } = noticed;
  const entry = noticePour(memory.pours, Math.round(event.atMs), Math.max(0, Math.round(event.takenUpMl)));
  const { outcome } = entry;
  enter(memory, entry);
  memory.rising = undefined;
  if (outcome === 'new') doubtPour(memory, asksAreFollowed(desk, tray.id, event.atMs));
  if (outcome === 'measured' && event.filled) shownFilled(memory);
  if (event.filled && outcome !== 'further-pour') learnUptake(memory, event.atMs, event.takenUpMl);
  return [
    wateringTold(tray, entry),
    ...alarmsEnd(noticed, event.takenUpMl / trayVolumeMl(tray), event.filled),
  ];
}

/** What follows when a probe begins to show a watering, and when that is over; nothing from whatever else the model noticed. */
export function noticeWatering(desk: Desk, event: ModelEvent, view: DeskView): readonly DeskEffect[] {
  if (event.kind !== 'watering-begun' && event.kind !== 'watering-detected') return [];
  const tray = standingTray(desk, event.trayId);
  if (tray === undefined) return [];
  const noticed: Noticed = { desk, tray, memory: memoryOf(desk.state, tray.id), view };
  return event.kind === 'watering-begun' ? wateringBegins(noticed, event) : wateringEnds(noticed, event);
}
