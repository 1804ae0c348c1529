import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import type { Belief } from '../filter/belief.js';
import { calibrationOf, type Farm } from '../filter/farm-state.js';
import { observeTray, type ReadingVerdict } from '../filter/hypotheses.js';
import { LINK_COUNT, LOCAL, PROBE } from '../filter/layout.js';
import {
  carriedOnSdM3PerM3,
  measuredValue,
  observeProbe,
  probeOffset,
  startProbe,
} from '../filter/measurement.js';
import type { ProbeState } from '../filter/probe-state.js';
import { widen } from '../filter/process-step.js';
import { innovationVariance, type ScalarObservation } from '../filter/scalar-update.js';
import { leadingBelief, meanLocal, type TrayState } from '../filter/tray-state.js';
import { doubtAfterSilence } from '../pours/unwatched.js';
import { splitOnDisagreement, wetSign } from './disagreement.js';
import { noteSurprise } from './unrest.js';

/**
 * How long, and by how many readings that agree with each other, a probe contradicts before it is asked why: sooner when
 * it reads wetter, for a probe that has lost touch reads dry and is often pressed back within the day (judgement).
 * `shortH` also for weighings; moisture readings further apart than `longH` are not one disagreement.
 */
const PATIENCE = { shortH: 3, longH: 8, readings: 3 } as const;
/** Rejected weighings widen the tare: by this much per hour, m³/m³; a silence counts for no more than an hour. */
const WIDENING_SD_M3PERM3_PER_H = 0.02;
const MOST_GAP_H = 1;

/** Feeds one step's median reading, raw unit, to the tray's belief. */
export function believeReading(
  farm: Farm,
  tray: TrayState,
  probe: ProbeState,
  raw: number,
  atMs: number,
  temperatureC: number,
): ReadingVerdict {
  const calibration = calibrationOf(farm, probe);
  const value = measuredValue(raw, calibration);
  const carriedOnSd = calibration === undefined ? 0 : carriedOnSdM3PerM3(calibration, raw);
  const { shared } = farm.memory;
  doubtAfterSilence(tray, probe, atMs);
  if (!probe.started) {
    for (const belief of tray.beliefs)
      startProbe(belief, LINK_COUNT, probe, tray.volumeMl, calibration, value);
    probe.started = true;
  }
  const sinceH = probe.lastSeenAtMs === undefined ? 0 : (atMs - probe.lastSeenAtMs) / MS_PER_HOUR;
  const observe = (belief: Belief): ScalarObservation =>
    observeProbe(
      belief,
      probe,
      tray.volumeMl,
      calibration,
      value,
      temperatureC,
      tray.recentDryingPerH,
      carriedOnSd,
    );
  const lead = leadingBelief(tray);
  const foretold = observe(lead);
  noteSurprise(
    probe,
    foretold.innovation ** 2 / innovationVariance(lead, tray.links, shared, foretold),
    sinceH,
  );
  const verdict = observeTray(tray, shared, observe);
  if (verdict === 'believed') return believed(farm, tray, probe);
  if (probe.spec.kind === 'tray-weight') {
    const waitedH = Math.min(MOST_GAP_H, sinceH);
    probe.rejectedH += waitedH;
    if (probe.rejectedH > PATIENCE.shortH)
      for (const belief of tray.beliefs)
        widen(
          belief,
          probeOffset(probe) + PROBE.bias,
          (WIDENING_SD_M3PERM3_PER_H * tray.volumeMl) ** 2 * waitedH,
        );
    return verdict;
  }
  const { innovation } = observe(leadingBelief(tray));
  const coherent = probe.rejected > 0 && innovation * probe.rejectedBy > 0;
  probe.rejectedH = coherent && sinceH <= PATIENCE.longH ? probe.rejectedH + sinceH : 0;
  probe.rejected = coherent ? probe.rejected + 1 : 1;
  probe.rejectedBy = innovation;
  const patienceH = innovation * wetSign(probe) > 0 ? PATIENCE.shortH : PATIENCE.longH;
  if (probe.rejectedH < patienceH || probe.rejected < PATIENCE.readings) return verdict;
  splitOnDisagreement(tray, probe, observe);
  return observeTray(tray, shared, observe) === 'believed' ? believed(farm, tray, probe) : verdict;
}

function believed(farm: Farm, tray: TrayState, probe: ProbeState): ReadingVerdict {
  probe.rejectedH = 0;
  probe.rejected = 0;
  keepBelowCapacity(farm, tray);
  return 'believed';
}

/** Free water drains: how surely no tray stands above capacity, m³/m³. */
const ABOVE_CAPACITY_SD = 0.012;

/** A state above capacity is the probe's offset, not water: pulled back as an observation, so that the bias learns. */
function keepBelowCapacity(farm: Farm, tray: TrayState): void {
  if (meanLocal(tray, LOCAL.water) <= meanLocal(tray, LOCAL.capacity)) return;
  observeTray(tray, farm.memory.shared, (belief) => {
    const localSlope = new Float64Array(belief.mean.length);
    localSlope[LOCAL.water] = 1;
    localSlope[LOCAL.capacity] = -1;
    return {
      innovation: (belief.mean[LOCAL.capacity] as number) - (belief.mean[LOCAL.water] as number),
      localSlope,
      noiseVariance: ABOVE_CAPACITY_SD ** 2,
    };
  });
}
