import type { Belief } from './belief.js';
import { LINK, LOCAL, PROBE, PROBE_WIDTH, TRAY_WIDTH } from './layout.js';

/** What drives a tray during one step: prior drying by dry air and by sun at the step's weather, and where the sun stands. */
export interface Drive {
  readonly airPerH: number;
  readonly sunPerH: number;
  /** −1 in the morning, +1 in the evening, 0 at noon. */
  readonly sunLean: number;
  /** Log of block side relative to the middle size. */
  readonly logSide: number;
  readonly covered: boolean;
  /** How much more than usual rate and water content wander, 1 or more. */
  readonly unrest: number;
}

/** Index at which a block has stopped drying: dry end of the falling-rate stage (judgement, deep below refill). */
export const DRY_END_INDEX = -0.9;
/** Half-width of the rounded knee, as an index. */
const KNEE_ROUNDING = 0.12;
/** Relative error of the modelled rate that lasts about `RATE_ERROR_MEMORY_H`: shape of the day, draughts, spill. */
const RATE_ERROR = 0.2;
const RATE_ERROR_MEMORY_H = 2;
/** Log rate of one tray wanders: roots, crust, neighbours set and taken. */
const RATE_WANDER_VAR_PER_H = 0.035 ** 2 / 24;
const COVER_WANDER_VAR_PER_H = 0.1 ** 2 / 24;
/** Least unexplained change of water content, m³/m³ per square-root hour. */
const LEAST_WATER_WANDER_VAR_PER_H = 0.0006 ** 2;

export interface FallingRate {
  readonly factor: number;
  readonly perIndex: number;
}

/**
 * Share of the constant rate at this moisture index, with a rounded knee, and its slope: softplus of the piecewise line,
 * so that a knee below the readings still feels them a little.
 */
export function fallingRate(index: number, kneeIndex: number): FallingRate {
  const span = Math.max(0.3, kneeIndex - DRY_END_INDEX);
  const below = (kneeIndex - index) / KNEE_ROUNDING;
  const soft = below > 30 ? below : Math.log1p(Math.exp(below));
  const factor = 1 - (soft * KNEE_ROUNDING) / span;
  if (factor <= 0.01) return { factor: 0.01, perIndex: 0 };
  return { factor, perIndex: 1 / (1 + Math.exp(-below)) / span };
}

/** How a probe's local components change by themselves. */
export interface ProbeWander {
  readonly biasVarPerH: number;
  readonly gainVarPerH: number;
  readonly slowNoiseSd: number;
  readonly slowNoiseMemoryH: number;
}

/**
 * Runs one tray's belief on by `hours` under `drive`: extended Kalman prediction of
 * dθ/dt = −(air·e^a + sun·e^s)·f(index). Returns the drying of the step, m³/m³.
 */
export function processStep(
  belief: Belief,
  linkCount: number,
  drive: Drive,
  probes: readonly ProbeWander[],
  hours: number,
): number {
  const n = belief.mean.length;
  const local = belief.mean;
  const shared = belief.centre;
  const capacity = local[LOCAL.capacity] as number;
  const refill = local[LOCAL.refill] as number;
  const span = Math.max(0.03, capacity - refill);
  const water = local[LOCAL.water] as number;
  const common =
    (local[LOCAL.rate] as number) +
    (shared[LINK.farmRate] as number) +
    (shared[LINK.sizeSlope] as number) * drive.logSide +
    (shared[LINK.sizeRate] as number) +
    (drive.covered ? (local[LOCAL.cover] as number) : 0);
  const cloud = 1 + (shared[LINK.benchCloud] as number) + (shared[LINK.benchLean] as number) * drive.sunLean;
  const clear = Math.max(0.05, cloud);
  const air = drive.airPerH * Math.exp(clampLog(common + (shared[LINK.benchAir] as number)));
  const sunClear = drive.sunPerH * Math.exp(clampLog(common + (shared[LINK.benchSun] as number)));
  const sun = sunClear * clear;
  const falling = fallingRate((water - refill) / span, shared[LINK.knee] as number);
  const dried = (air + sun) * falling.factor * hours;

  const slope = new Float64Array(n);
  slope[LOCAL.water] = Math.max(0, 1 - (air + sun) * (falling.perIndex / span) * hours);
  slope[LOCAL.rate] = -dried;
  if (drive.covered) slope[LOCAL.cover] = -dried;
  const byShared = new Float64Array(linkCount);
  byShared[LINK.farmRate] = -dried;
  byShared[LINK.sizeSlope] = -dried * drive.logSide;
  byShared[LINK.sizeRate] = -dried;
  byShared[LINK.knee] = (air + sun) * hours * falling.perIndex;
  byShared[LINK.benchAir] = -air * falling.factor * hours;
  byShared[LINK.benchSun] = -sun * falling.factor * hours;
  if (cloud > clear - 1e-12) {
    byShared[LINK.benchCloud] = -sunClear * falling.factor * hours;
    byShared[LINK.benchLean] = -sunClear * falling.factor * hours * drive.sunLean;
  }

  const roughness = (RATE_ERROR * dried) ** 2 * Math.max(1, (2 * RATE_ERROR_MEMORY_H) / hours);
  carryWater(
    belief,
    linkCount,
    slope,
    byShared,
    roughness + LEAST_WATER_WANDER_VAR_PER_H * hours * drive.unrest ** 2,
  );
  local[LOCAL.water] = Math.max(0.005, water - dried);
  widen(belief, LOCAL.rate, RATE_WANDER_VAR_PER_H * hours * drive.unrest ** 2);
  if (drive.covered) widen(belief, LOCAL.cover, COVER_WANDER_VAR_PER_H * hours);
  probes.forEach((probe, i) => {
    wanderProbe(belief, linkCount, TRAY_WIDTH + i * PROBE_WIDTH, probe, hours);
  });
  return dried;
}

/** Covariance after `water' = slope · local + byShared · shared + noise`, all else unchanged. */
function carryWater(
  belief: Belief,
  width: number,
  slope: Float64Array,
  byShared: Float64Array,
  noiseVariance: number,
): void {
  const n = belief.mean.length;
  const row = new Float64Array(n);
  const w = LOCAL.water;
  let variance = noiseVariance;
  for (let j = 0; j < n; j++) {
    let sum = 0;
    for (let i = 0; i < TRAY_WIDTH; i++)
      sum += (slope[i] as number) * (belief.covariance[i * n + j] as number);
    row[j] = sum;
  }
  for (let i = 0; i < TRAY_WIDTH; i++) variance += (slope[i] as number) * (row[i] as number);
  for (let j = 0; j < n; j++) {
    belief.covariance[w * n + j] = row[j] as number;
    belief.covariance[j * n + w] = row[j] as number;
  }
  belief.covariance[w * n + w] = variance;
  for (let k = 0; k < width; k++) {
    let sum = byShared[k] as number;
    for (let i = 0; i < TRAY_WIDTH; i++)
      sum += (slope[i] as number) * (belief.onShared[i * width + k] as number);
    belief.onShared[w * width + k] = sum;
  }
}

function wanderProbe(belief: Belief, width: number, offset: number, probe: ProbeWander, hours: number): void {
  const n = belief.mean.length;
  widen(belief, offset + PROBE.bias, probe.biasVarPerH * hours);
  widen(belief, offset + PROBE.gain, probe.gainVarPerH * hours);
  const at = offset + PROBE.slowNoise;
  const keep = Math.exp(-hours / probe.slowNoiseMemoryH);
  belief.mean[at] = (belief.mean[at] as number) * keep;
  for (let j = 0; j < n; j++) {
    belief.covariance[at * n + j] = (belief.covariance[at * n + j] as number) * keep;
    belief.covariance[j * n + at] = (belief.covariance[j * n + at] as number) * keep;
  }
  widen(belief, at, probe.slowNoiseSd ** 2 * (1 - keep * keep));
  for (let k = 0; k < width; k++)
    belief.onShared[at * width + k] = (belief.onShared[at * width + k] as number) * keep;
}

export function widen(belief: Belief, component: number, variance: number): void {
  const at = component * belief.mean.length + component;
  belief.covariance[at] = (belief.covariance[at] as number) + variance;
}

/** Log multipliers beyond a factor of 20 are a sign of trouble, not of weather. */
function clampLog(value: number): number {
  return Math.min(3, Math.max(-3, value));
}
