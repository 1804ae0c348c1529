import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import type { TrayEvent } from '../../../shared/facts/tray-life.js';
import type { DryDown } from '../model/farm-model.js';
import type { CurveSample, KeptDryDown } from './kept-dry-down.js';
import { trayAt } from './tray-at.js';

/** Enough for a curve on paper; a week at one sample an hour has 168. */
const MOST_SAMPLES = 240;

/** Water content of one tray at one instant, as a forecast told it. */
export interface WaterContentAt {
  readonly atMs: number;
  readonly waterContentM3PerM3: number;
}

/**
 * Cuts one dry-down out of its tray's history: the curve aligned at the watering, with what the tray was when it was
 * watered. `course` is sorted by time and may reach beyond the dry-down. Both ends come from the dry-down itself.
 */
export function cutDryDown(
  dryDown: DryDown,
  events: readonly TrayEvent[],
  course: readonly WaterContentAt[],
): KeptDryDown {
  const inside = course.filter(({ atMs }) => atMs > dryDown.startedAtMs && atMs < dryDown.endedAtMs);
  const stride = Math.max(1, Math.ceil(inside.length / MOST_SAMPLES));
  const sample = (atMs: number, waterContentM3PerM3: number): CurveSample => ({
    elapsedH: (atMs - dryDown.startedAtMs) / MS_PER_HOUR,
    waterContentM3PerM3,
  });
  return {
    ...dryDown,
    ...trayAt(events, dryDown.trayId, dryDown.startedAtMs),
    samples: [
      sample(dryDown.startedAtMs, dryDown.startWaterContentM3PerM3),
      ...inside
        .filter((_, index) => index % stride === 0)
        .map(({ atMs, waterContentM3PerM3 }) => sample(atMs, waterContentM3PerM3)),
      sample(dryDown.endedAtMs, dryDown.endWaterContentM3PerM3),
    ],
  };
}
