import { calibrationOf, type Farm } from '../filter/farm-state.js';
import { LOCAL } from '../filter/layout.js';
import { measuredValue, unitsPerWater } from '../filter/measurement.js';
import { isHandScale, type ProbeState } from '../filter/probe-state.js';
import { leadingBelief, meanLocal, type TrayState } from '../filter/tray-state.js';
import { recallHabit, scaleIsOpen } from '../pours/moisture-index.js';
import { closeRise } from '../pours/open-rise.js';
import { driedSince, soakedAtMs } from '../pours/pour-book.js';
import { pourUnmeasured } from '../pours/pour-update.js';
import { addToTrace, clearTrace, findRise, mayBeRising } from '../pours/rise-detector.js';
import { believeReading } from '../probes/believe-reading.js';
import { noteSeen } from '../probes/cadence.js';
import { noteLevelWhenFull } from '../probes/drift-watch.js';
import {
  signFromContraryJump,
  signFromDrying,
  signFromSeenPour,
  signFromToldPour,
  signIsKnown,
} from '../probes/dry-sign.js';
import { tellExperts } from './experts-hour.js';
import { bookPour } from './farm-told.js';

const STEP_H = 1 / 6;

/** One step of one probe: looks for a pour, leaves out readings of a wicking block, believes the rest. */
export function closeProbeStep(
  farm: Farm,
  tray: TrayState,
  probe: ProbeState,
  raw: number | undefined,
  atMs: number,
  temperatureC: number,
): void {
  if (raw === undefined) {
    if (tray.openRise?.probeId === probe.spec.id) closeRise(farm, tray, probe, atMs);
    return;
  }
  const calibration = calibrationOf(farm, probe);
  const value = measuredValue(raw, calibration);
  tellExperts(farm, tray, probe, atMs, value);
  const isRaw = probe.spec.kind === 'block-moisture' && calibration === undefined;
  const settled = atMs >= tray.wickingUntilMs;
  if (isRaw && settled && signFromToldPour(probe, -probe.drySign * value)) clearTrace(probe.trace);
  const wetness = isRaw ? -probe.drySign * value : value;
  const perWater = unitsPerWater(leadingBelief(tray), probe, tray.volumeMl, calibration !== undefined);
  if (settled || tray.openRise?.probeId === probe.spec.id)
    addToTrace(probe.trace, atMs, wetness, temperatureC, perWater);
  if (tray.openRise?.probeId === probe.spec.id) closeRise(farm, tray, probe, atMs);
  if (settled && tray.openRise === undefined && !isHandScale(probe)) {
    const rise = findRise(probe.trace, perWater, STEP_H);
    if (rise === undefined && isRaw) {
      signFromContraryJump(probe, perWater, STEP_H);
      signFromDrying(probe, atMs, wetness, (sinceMs) => driedSince(tray, sinceMs), perWater);
    }
    if (rise !== undefined) {
      if (isRaw) signFromSeenPour(probe);
      if (scaleIsOpen(tray)) recallHabit(tray, farm.memory.shared);
      const waterBefore = meanLocal(tray, LOCAL.water) + driedSince(tray, rise.beforeAtMs);
      pourUnmeasured(tray, driedSince(tray, soakedAtMs(tray, rise.startedAtMs)), 'seen');
      const trace = {
        atMs: [...probe.trace.atMs],
        wetness: [...probe.trace.wetness],
        temperatureC: [...probe.trace.temperatureC],
      };
      bookPour(farm, tray, rise.startedAtMs, 'detected', undefined, waterBefore);
      Object.assign(probe.trace, trace);
      tray.openRise = {
        probeId: probe.spec.id,
        startedAtMs: rise.startedAtMs,
        noticedAtMs: atMs,
        waterBefore,
        before: rise.before,
        perWater,
      };
      farm.memory.pending.push({
        kind: 'watering-begun',
        trayId: tray.id,
        atMs: rise.startedAtMs,
        noticedAtMs: atMs,
        risenM3PerM3: rise.risen / perWater,
      });
    }
  }
  const believable = atMs >= tray.wickingUntilMs && !mayBeRising(probe.trace, perWater);
  if (believable && (!isRaw || signIsKnown(probe))) {
    const verdict = believeReading(farm, tray, probe, raw, atMs, temperatureC);
    if (probe.awaitsFullLevel && verdict === 'believed')
      noteFullLevel(farm, tray, probe, wetness / perWater, atMs);
  }
  noteSeen(probe, atMs);
}

/** Closer to capacity than this counts as filled, m³/m³. */
const FULL_WITHIN = 0.04;

function noteFullLevel(farm: Farm, tray: TrayState, probe: ProbeState, level: number, atMs: number): void {
  probe.awaitsFullLevel = false;
  const below = meanLocal(tray, LOCAL.capacity) - meanLocal(tray, LOCAL.water);
  if (probe.spec.kind !== 'block-moisture' || below > FULL_WITHIN) return;
  const event = noteLevelWhenFull(probe, level + below, atMs);
  if (event !== undefined) farm.memory.pending.push(event);
}
