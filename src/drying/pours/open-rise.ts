import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import type { Farm } from '../filter/farm-state.js';
import { observeTray } from '../filter/hypotheses.js';
import { LOCAL } from '../filter/layout.js';
import type { ProbeState } from '../filter/probe-state.js';
import { meanLocal, type TrayState } from '../filter/tray-state.js';
import { clearTrace } from './rise-detector.js';

/** A rise is not over before this long, h, and over when the last steps add less than this share of it. */
const LEAST_RISE_H = 0.6;
const STILL_RISING_SHARE = 0.06;
const STEPS_COMPARED = 2;
/** What the rise says of water taken up: this much plus a share of it, m³/m³. */
const RISE_SD = { base: 0.02, share: 0.15 };
/** Closer to capacity than this counts as filled, m³/m³. */
const FILLED_WITHIN = 0.05;

/** Ends a pour's rise when the probe has settled or the block has stopped wicking, and tells of it. */
export function closeRise(farm: Farm, tray: TrayState, probe: ProbeState, atMs: number): void {
  const rise = tray.openRise;
  if (rise === undefined) return;
  const { wetness } = probe.trace;
  const level = wetness[wetness.length - 1];
  const earlier = wetness[wetness.length - 1 - STEPS_COMPARED];
  const wicked = atMs >= tray.wickingUntilMs;
  if (!wicked && atMs - rise.startedAtMs < LEAST_RISE_H * MS_PER_HOUR) return;
  if (level === undefined) return;
  const risen = level - rise.before;
  if (!wicked && (earlier === undefined || level - earlier > STILL_RISING_SHARE * risen)) return;

  const takenUp = Math.max(0, risen / rise.perWater);
  observeTray(tray, farm.memory.shared, (belief) => {
    const localSlope = new Float64Array(belief.mean.length);
    localSlope[LOCAL.water] = 1;
    return {
      innovation: rise.waterBefore + takenUp - (belief.mean[LOCAL.water] as number),
      localSlope,
      noiseVariance: RISE_SD.base ** 2 + (RISE_SD.share * takenUp) ** 2,
    };
  });
  const waterAfter = meanLocal(tray, LOCAL.water);
  const capacity = meanLocal(tray, LOCAL.capacity);
  farm.memory.pending.push({
    kind: 'watering-detected',
    trayId: tray.id,
    atMs: rise.startedAtMs,
    noticedAtMs: atMs,
    takenUpMl: Math.max(0, (waterAfter - rise.waterBefore) * tray.volumeMl),
    takenUpSdMl: Math.hypot(RISE_SD.base, RISE_SD.share * takenUp) * tray.volumeMl,
    filled: waterAfter > capacity - FILLED_WITHIN,
  });
  if (tray.dryDown !== undefined) tray.dryDown.startWaterContentM3PerM3 = waterAfter;
  tray.openRise = undefined;
  clearTrace(probe.trace);
}
