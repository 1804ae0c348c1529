import type { ProbeConfig } from '../../shared/config/kit/probes.js';
import { createProbeJudge } from '../../src/sensing/probe-judge.js';
import type { RecordedColumns } from './scenario.js';

const HOUR_MS = 3_600_000;
/** A rise by this much above the lowest since is a watering, m3/m3. */
const RISE_M3_PER_M3 = 0.06;
/** A gap this long ends a dry-down: nobody knows what happened in it. */
const GAP_MS = 12 * HOUR_MS;
const SHORTEST_MS = 6 * HOUR_MS;
/** Left out at the start, while water still spreads. */
const SETTLING_MS = 4 * HOUR_MS;

/** A fall as the probe recorded it; most end by a watering before any refill level is crossed. */
export interface RecordedDryDown {
  readonly fromMs: number;
  readonly endMs: number;
  /** When the recorded water content came down to the refill point, if it did. */
  readonly crossedMs: number | undefined;
}

/** Cuts a calibrated probe's record into dry-downs, with the whole record in view (a forecaster never has that). */
export function recordedDryDowns(
  probe: ProbeConfig,
  readings: RecordedColumns,
  refillM3PerM3: number,
): RecordedDryDown[] {
  const judge = createProbeJudge(probe);
  const index = readings.probeIds.indexOf(probe.id);
  const found: RecordedDryDown[] = [];
  let fromMs: number | undefined;
  let lowest = { atMs: 0, water: Number.POSITIVE_INFINITY };
  let crossedMs: number | undefined;
  let lastMs = 0;
  const close = (): void => {
    if (fromMs !== undefined && lowest.atMs - fromMs >= SHORTEST_MS)
      found.push({ fromMs: fromMs + SETTLING_MS, endMs: lowest.atMs, crossedMs });
  };
  for (let i = 0; i < readings.count; i++) {
    if (readings.probe[i] !== index) continue;
    const atMs = readings.atMs[i] ?? 0;
    const { waterContentM3PerM3: water, flag } = judge.judge(atMs, readings.value[i]);
    if (water === undefined || flag === 4 || flag === 9) continue;
    if (fromMs === undefined || atMs - lastMs > GAP_MS || water > lowest.water + RISE_M3_PER_M3) {
      close();
      fromMs = atMs;
      crossedMs = undefined;
      lowest = { atMs, water };
    } else if (water > lowest.water && lowest.atMs === fromMs) {
      // still rising after the watering: the fall begins at the top
      fromMs = atMs;
      lowest = { atMs, water };
    }
    if (water <= lowest.water) lowest = { atMs, water };
    if (crossedMs === undefined && water <= refillM3PerM3) crossedMs = atMs;
    lastMs = atMs;
  }
  close();
  return found;
}
