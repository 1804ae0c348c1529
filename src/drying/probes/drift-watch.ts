import type { ProbeState } from '../filter/probe-state.js';
import type { ModelEvent } from '../model/farm-model.js';

/** Waterings that the first level is the mean of, and the weight of each later one in the recent level. */
const FIRST_WATERINGS = 3;
const RECENT_SHARE = 0.4;
/** Drift that is worth telling, and how much more it takes to tell again, m³/m³. */
const TELL_FROM = 0.05;
const TELL_AGAIN_AFTER = 0.03;

/**
 * Notes what a probe reads at container capacity after a watering that filled the tray, m³/m³ (raw volts divided by
 * their slope); returns the event when it has wandered far since the first waterings.
 */
export function noteLevelWhenFull(
  probe: ProbeState,
  levelM3PerM3: number,
  atMs: number,
): ModelEvent | undefined {
  const { drift } = probe;
  drift.count++;
  if (drift.count <= FIRST_WATERINGS) {
    const before = drift.first ?? 0;
    drift.first = before + (levelM3PerM3 - before) / drift.count;
    drift.recent = drift.first;
    return undefined;
  }
  const recent = drift.recent ?? levelM3PerM3;
  drift.recent = recent + RECENT_SHARE * (levelM3PerM3 - recent);
  const driftM3PerM3 = drift.recent - (drift.first ?? 0);
  if (Math.abs(driftM3PerM3) < TELL_FROM || Math.abs(driftM3PerM3 - drift.told) < TELL_AGAIN_AFTER)
    return undefined;
  drift.told = driftM3PerM3;
  return { kind: 'probe-drift', probeId: probe.spec.id, atMs, driftM3PerM3 };
}
