import { dryBy, dryingSlopes, fallingStage } from '../physics/drying-law.js';
import { type Belief, spanOf } from './belief.js';
import { LINK, LOCAL, PROBE, PROBE_WIDTH, perDay, TRAY_WIDTH } from './layout.js';

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

/** Relative error of the modelled rate that lasts about `RATE_ERROR_MEMORY_H`: shape of the day, draughts, spill. */
const RATE_ERROR = 0.2;
const RATE_ERROR_MEMORY_H = 2;
/** Log rate of one tray wanders: roots, crust, neighbours set and taken. */
const RATE_WANDER_VAR_PER_H = perDay(0.035);
const COVER_WANDER_VAR_PER_H = perDay(0.1);
/** Least unexplained change of water content, m³/m³ per square-root hour. */
const LEAST_WATER_WANDER_VAR_PER_H = 0.0006 ** 2;

/** How a probe's local components change by themselves. */
export interface ProbeWander {
  readonly biasVarPerH: number;
  readonly gainVarPerH: number;
  readonly slowNoiseSd: number;
  readonly slowNoiseMemoryH: number;
}

/**
 * Runs one tray's belief on by `hours` under `drive`: extended Kalman prediction by the drying law, with the potential rate
 * air·e^a + sun·e^s. Returns the drying of the step, m³/m³.
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
  const refill = local[LOCAL.refill] as number;
  const span = spanOf(belief);
  const water = local[LOCAL.water] as number;
  const common =
    (local[LOCAL.rate] as number) +
    (shared[LINK.farmRate] as number) +
    (shared[LINK.sizeSlope] as number) * drive.logSide +
    (shared[LINK.sizeRate] as number) +
    (drive.covered ? (local[LOCAL.cover] as number) : 0);
  const cloud = 1 + (shared[LINK.benchCloud] as number) + (shared[LINK.benchLean] as number) * drive.sunLean;
  const clear = Math.max(0, cloud);
  const air = drive.airPerH * factorOf(common + (shared[LINK.benchAir] as number));
  const sunClear = drive.sunPerH * factorOf(common + (shared[LINK.benchSun] as number));
  const sun = sunClear * clear;
  const stage = fallingStage(refill, refill + span, shared[LINK.knee] as number);
  const potential = (air + sun) * hours;
  const after = dryBy(water, potential, stage);
  const dried = water - after;
  const slopes = dryingSlopes(water, after, potential, stage);
  /** Change of the water content by a factor on one part of the potential. */
  const perLog = (perH: number): number => slopes.perPotential * perH * hours;

  const slope = new Float64Array(n);
  slope[LOCAL.water] = slopes.perWaterContent;
  slope[LOCAL.rate] = perLog(air + sun);
  if (drive.covered) slope[LOCAL.cover] = perLog(air + sun);
  const byShared = new Float64Array(linkCount);
  byShared[LINK.farmRate] = perLog(air + sun);
  byShared[LINK.sizeSlope] = perLog(air + sun) * drive.logSide;
  byShared[LINK.sizeRate] = perLog(air + sun);
  byShared[LINK.knee] = slopes.perKnee * span;
  byShared[LINK.benchAir] = perLog(air);
  byShared[LINK.benchSun] = perLog(sun);
  if (cloud >= clear) {
    byShared[LINK.benchCloud] = perLog(sunClear);
    byShared[LINK.benchLean] = perLog(sunClear) * drive.sunLean;
  }

  const roughness = (RATE_ERROR * dried) ** 2 * Math.max(1, (2 * RATE_ERROR_MEMORY_H) / hours);
  carryWater(
    belief,
    linkCount,
    slope,
    byShared,
    roughness + LEAST_WATER_WANDER_VAR_PER_H * hours * drive.unrest ** 2,
  );
  local[LOCAL.water] = Math.max(0, after);
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

/** Logs beyond a factor of 20 are a sign of trouble, not of weather or of a probe (judgement). */
const MOST_LOG = 3;

/** The factor that a believed log stands for. */
export function factorOf(log: number): number {
  return Math.exp(Math.min(MOST_LOG, Math.max(-MOST_LOG, log)));
}
