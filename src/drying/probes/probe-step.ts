import { calibrationOf, type Farm } from '../farm-state.js';
import { bookPour } from '../farm-told.js';
import { LOCAL } from '../filter/layout.js';
import { leadingBelief, meanLocal, type TrayState, wickingH } from '../filter/tray-state.js';
import { closeRise } from '../pours/open-rise.js';
import { driedSince } from '../pours/pour-book.js';
import { pourUnmeasured } from '../pours/pour-update.js';
import { addToTrace, findRise, mayBeRising } from '../pours/rise-detector.js';
import { believeReading } from './believe-reading.js';
import { measuredValue, unitsPerWater } from './measurement.js';
import { isHandScale, type ProbeState } from './probe-state.js';

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
  const wetness =
    probe.spec.kind === 'block-moisture' && calibration === undefined ? -probe.drySign * value : value;
  if (atMs >= tray.wickingUntilMs || tray.openRise?.probeId === probe.spec.id)
    addToTrace(probe.trace, atMs, wetness, temperatureC);
  if (tray.openRise?.probeId === probe.spec.id) closeRise(farm, tray, probe, atMs);
  const perWater = unitsPerWater(leadingBelief(tray), probe, tray.volumeMl, calibration !== undefined);
  if (atMs >= tray.wickingUntilMs && tray.openRise === undefined && !isHandScale(probe)) {
    const wicking = wickingH(tray.spec.blockSideMm);
    const rise = findRise(probe.trace, wicking, perWater, STEP_H);
    if (rise !== undefined) {
      const waterBefore = meanLocal(tray, LOCAL.water);
      pourUnmeasured(tray, farm.memory.shared, driedSince(tray, rise.startedAtMs), FILLED_WHEN_SEEN);
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
    }
  }
  if (atMs >= tray.wickingUntilMs && !mayBeRising(probe.trace, wickingH(tray.spec.blockSideMm), perWater))
    believeReading(farm, tray, probe, raw, atMs, temperatureC);
  probe.lastSeenAtMs = atMs;
}

/** Share of detected pours that fill a tray, before its probe has settled (judgement). */
const FILLED_WHEN_SEEN = 0.75;
