import { calibrationOf, type Farm } from '../farm-state.js';
import { recentre } from '../filter/belief.js';
import { observeTray, type ReadingVerdict } from '../filter/hypotheses.js';
import { LINK_COUNT, LOCAL, PROBE } from '../filter/layout.js';
import { widen } from '../filter/process-step.js';
import { meanLocal, type TrayState } from '../filter/tray-state.js';
import { doubtAfterSilence } from '../pours/unwatched.js';
import { carriedOnSdM3PerM3, measuredValue, observeProbe, probeOffset, startProbe } from './measurement.js';
import { type ProbeState, USUAL_VOLTS_PER_WATER } from './probe-state.js';

const MS_PER_HOUR = 3_600_000;
/** After this many hours of rejected readings the probe's bias is widened, not the water content moved. */
const PATIENCE_H = 3;
/** Widening per hour of further rejections, m³/m³. */
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
  if (probe.lastSeenAtMs !== undefined) doubtAfterSilence(farm, tray, probe.lastSeenAtMs, atMs);
  if (!probe.started) {
    for (const belief of tray.beliefs) {
      recentre(belief, tray.links, shared);
      startProbe(belief, LINK_COUNT, probe, tray.volumeMl, calibration, value);
    }
    probe.started = true;
  }
  const sinceH = probe.lastSeenAtMs === undefined ? 0 : (atMs - probe.lastSeenAtMs) / MS_PER_HOUR;
  const verdict = observeTray(tray, shared, (belief) =>
    observeProbe(
      belief,
      probe,
      tray.volumeMl,
      calibration,
      value,
      temperatureC,
      tray.recentDryingPerH,
      carriedOnSd,
    ),
  );
  if (verdict === 'believed') {
    probe.rejectedH = 0;
    keepBelowCapacity(farm, tray);
    return verdict;
  }
  const waitedH = Math.min(MOST_GAP_H, sinceH);
  probe.rejectedH += waitedH;
  if (probe.rejectedH > PATIENCE_H) {
    const perWater =
      probe.spec.kind === 'tray-weight'
        ? tray.volumeMl
        : calibration === undefined
          ? USUAL_VOLTS_PER_WATER
          : 1;
    for (const belief of tray.beliefs)
      widen(belief, probeOffset(probe) + PROBE.bias, (WIDENING_SD_M3PERM3_PER_H * perWater) ** 2 * waitedH);
  }
  return verdict;
}

/** Free water drains: how far above capacity a tray may stand without doubt, and how sure that is, m³/m³. */
const ABOVE_CAPACITY = { allowed: 0.004, sd: 0.012 } as const;

/** A state above capacity is the probe's offset, not water: pulled back as an observation, so that the bias learns. */
function keepBelowCapacity(farm: Farm, tray: TrayState): void {
  const above = meanLocal(tray, LOCAL.water) - meanLocal(tray, LOCAL.capacity);
  if (above <= ABOVE_CAPACITY.allowed) return;
  observeTray(tray, farm.memory.shared, (belief) => {
    const localSlope = new Float64Array(belief.mean.length);
    localSlope[LOCAL.water] = 1;
    localSlope[LOCAL.capacity] = -1;
    return {
      innovation: (belief.mean[LOCAL.capacity] as number) - (belief.mean[LOCAL.water] as number),
      localSlope,
      noiseVariance: ABOVE_CAPACITY.sd ** 2,
    };
  });
}
