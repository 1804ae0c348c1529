import { toInstant } from '../../../shared/ids.js';
import type { ModelEvent } from '../../drying/farm-model.js';
import { resolveTrayAlarms } from '../alarms/alarm-book.js';
import { type Desk, MS_PER_HOUR, standingTray } from '../desk.js';
import { memoryOf, type TrayMemory } from '../desk-state.js';
import { blocksVolumeMl } from '../rounds/dose.js';
import type { DeskEffect, DeskView } from '../watering-desk.js';
import { asksAreFollowed } from './asks-are-followed.js';
import { noticePour } from './pour-ledger.js';
import { doubtPour } from './shortfall.js';

/** An alarm ends with a watering, and a flicker is none: a rise of the moisture index by this much (science notes, section 8). */
const WATERED_RISE_INDEX = 0.15;
/** A notice this long before the pour still says what was missing. */
const NOTICE_FITS_MS = 8 * MS_PER_HOUR;
/** Amounts below this teach nothing about uptake, mL. */
const TEACHES_FROM_ML = 50;
/** One filling may pull the learned uptake no further than a factor of two. */
const MOST_LOG = Math.LN2;
const REMEMBERED_FILLINGS = 12;

function learnUptake(memory: TrayMemory, atMs: number, takenUpMl: number): void {
  const missing = memory.missingMlAtNotice;
  if (missing === undefined || missing.ml < TEACHES_FROM_ML || takenUpMl <= 0) return;
  if (atMs < missing.atMs || atMs - missing.atMs > NOTICE_FITS_MS) return;
  const log = Math.max(-MOST_LOG, Math.min(MOST_LOG, Math.log(takenUpMl / missing.ml)));
  const count = Math.min(memory.uptake.count + 1, REMEMBERED_FILLINGS);
  memory.uptake = { logMean: memory.uptake.logMean + (log - memory.uptake.logMean) / count, count };
}

/** What follows from a watering that a probe has shown: reconciled with what was told, learned from, and alarms end. */
export function noticeWatering(
  desk: Desk,
  event: Extract<ModelEvent, { kind: 'watering-detected' }>,
  view: DeskView,
): readonly DeskEffect[] {
  const tray = standingTray(desk, event.trayId);
  if (tray === undefined) return [];
  const memory = memoryOf(desk.state, tray.id);
  const takenUpMl = Math.max(0, Math.round(event.takenUpMl));
  const { outcome, pours, pour } = noticePour(memory.pours, Math.round(event.atMs), takenUpMl);
  memory.pours = pours;
  memory.perhaps = undefined;
  memory.missedRoundMs = undefined;
  if (outcome === 'new') doubtPour(memory, asksAreFollowed(desk, tray.id, event.atMs));
  if (event.filled && outcome !== 'further-pour') learnUptake(memory, event.atMs, event.takenUpMl);
  const forecast = view.forecasts.get(tray.id);
  const rise =
    forecast === undefined
      ? 1
      : event.takenUpMl /
        blocksVolumeMl(tray) /
        (forecast.containerCapacityM3PerM3 - forecast.refillPointM3PerM3);
  const ml = pour.source === 'detected' ? pour.takenUpMl : pour.told?.ml;
  return [
    {
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
    },
    ...(event.filled || rise >= WATERED_RISE_INDEX
      ? resolveTrayAlarms(desk, tray.id, ['refill', 'dry'], 'watered', view.nowMs)
      : []),
  ];
}
