import type { Calibration } from '../../sensing/calibration/calibration.js';
import type { Belief } from './belief.js';
import { LOCAL, PROBE, PROBE_WIDTH, TRAY_WIDTH } from './layout.js';
import {
  MOISTURE_WANDER,
  MOISTURE_WHITE_SD,
  type ProbeState,
  RAW_WANDER,
  RAW_WHITE_SD_V,
  USUAL_VOLTS_PER_WATER,
  weightWander,
  weightWhiteSdG,
} from './probe-state.js';
import type { ProbeWander } from './process-step.js';
import { type ScalarObservation, setLocal } from './scalar-update.js';

/** Temperature at which a probe's reading is taken to be right, °C (usual room of a calibration). */
export const REFERENCE_C = 20;
const MOISTURE_BIAS_SD = 0.03;
/**
 * A witness falls less than the mean block: growers put the probe into a block away from the rim (common practice), where
 * it dries slower than the outer ring. Two virtual greenhouses, written apart, have 0.82 to 1.0 of the mean's fall by size.
 */
const MOISTURE_GAIN = { mean: -0.04, sd: 0.1 } as const;
const MOISTURE_PER_K_SD = 0.0015;
/** Volts per m³/m³ within a factor of 1.4 either way: common capacitive probes on 3.3 or 5 V (common practice). */
const RAW_LOG_GAIN_SD = 0.35;
const RAW_FULL_SD_V = 0.6;
const RAW_PER_K_SD_V = 0.003;
/** Dry mass of a pressed block, g per mL, and how unsure that is (judgement: bulk density of pressed peat and compost). */
const DRY_BLOCK_G_PER_ML = { mean: 0.22, sd: 0.07 };
const UNKNOWN_TARE_SD_G = 700;

/**
 * Capacitive probes flatten towards the wet end, so a straight line through two weighed points reads too wet between
 * them. Bulge midway, m³/m³, for two points; it falls with the square of the number of pieces.
 */
const BEND = { mean: 0.012, sd: 0.02 } as const;
/** The same for raw volts: relative growth of the slope per m³/m³ of deficit. */
const RAW_BEND = { mean: 0.4, sd: 0.4 } as const;

/** A probe in the skin reads drier while its block dries, one in the core wetter: m³/m³ per m³/m³ and hour. */
const DEPTH_SD_H = 0.8;

export function probeOffset(probe: ProbeState): number {
  return TRAY_WIDTH + probe.slot * PROBE_WIDTH;
}

export function wanderOf(probe: ProbeState, trayVolumeMl: number): ProbeWander {
  if (probe.spec.kind === 'tray-weight') return weightWander(trayVolumeMl);
  return probe.spec.calibration === undefined ? RAW_WANDER : MOISTURE_WANDER;
}

/** A probe's reading in the unit that its components are kept in: m³/m³ with a calibration, else volts or grams. */
export function measuredValue(raw: number, calibration: Calibration | undefined): number {
  return calibration === undefined ? raw : calibration.waterContentM3PerM3(raw);
}

/** What a reading beyond the calibration's ends is less sure by than one within them, m³/m³. */
export function carriedOnSdM3PerM3(calibration: Calibration, raw: number): number {
  if (calibration.beyondShare(raw) === 0) return 0;
  const { sdM3PerM3 } = calibration.waterContent(raw);
  return Math.sqrt(Math.max(0, sdM3PerM3 ** 2 - calibration.residualSdM3PerM3 ** 2));
}

/** Sets a probe's components from its priors and, where only a reading can tell, from its first one. */
export function startProbe(
  belief: Belief,
  linkCount: number,
  probe: ProbeState,
  trayVolumeMl: number,
  calibration: Calibration | undefined,
  value: number,
): void {
  const offset = probeOffset(probe);
  const set = (component: number, mean: number, sd: number): void =>
    setLocal(belief, linkCount, offset + component, mean, sd);
  const water = belief.mean[LOCAL.water] as number;
  const capacity = belief.mean[LOCAL.capacity] as number;
  if (probe.spec.kind === 'tray-weight') {
    const known = probe.spec.emptyTrayG;
    if (known === undefined)
      set(PROBE.bias, value - trayVolumeMl * water, UNKNOWN_TARE_SD_G + 0.4 * trayVolumeMl);
    else
      set(PROBE.bias, known + DRY_BLOCK_G_PER_ML.mean * trayVolumeMl, DRY_BLOCK_G_PER_ML.sd * trayVolumeMl);
    set(PROBE.slowNoise, 0, weightWander(trayVolumeMl).slowNoiseSd);
    set(PROBE.gain, 0, 0);
    set(PROBE.temperature, 0, 0);
    set(PROBE.bend, 0, 0);
    set(PROBE.depth, 0, 0);
    return;
  }
  if (calibration !== undefined) {
    set(PROBE.bias, 0, Math.hypot(MOISTURE_BIAS_SD, calibration.residualSdM3PerM3));
    set(PROBE.slowNoise, 0, MOISTURE_WANDER.slowNoiseSd);
    set(PROBE.gain, MOISTURE_GAIN.mean, MOISTURE_GAIN.sd);
    set(PROBE.temperature, 0, MOISTURE_PER_K_SD);
    const pieces = Math.max(1, (probe.spec.calibration?.length ?? 2) - 1);
    set(PROBE.bend, BEND.mean / pieces ** 2, BEND.sd / pieces);
    set(PROBE.depth, 0, DEPTH_SD_H);
    return;
  }
  const slope = probe.drySign * USUAL_VOLTS_PER_WATER;
  set(PROBE.bias, value - slope * (capacity - water), RAW_FULL_SD_V);
  set(PROBE.slowNoise, 0, RAW_WANDER.slowNoiseSd);
  set(PROBE.gain, Math.log(USUAL_VOLTS_PER_WATER), RAW_LOG_GAIN_SD);
  set(PROBE.temperature, 0, RAW_PER_K_SD_V);
  set(PROBE.bend, RAW_BEND.mean, RAW_BEND.sd);
  set(PROBE.depth, 0, DEPTH_SD_H * USUAL_VOLTS_PER_WATER);
}

/** What a reading says of the tray's belief, linearised there. */
export function observeProbe(
  belief: Belief,
  probe: ProbeState,
  trayVolumeMl: number,
  calibration: Calibration | undefined,
  value: number,
  temperatureC: number,
  recentDryingPerH: number,
  carriedOnSd = 0,
): ScalarObservation {
  const offset = probeOffset(probe);
  const local = belief.mean;
  const localSlope = new Float64Array(local.length);
  const at = (component: number): number => local[offset + component] as number;
  const water = local[LOCAL.water] as number;
  const capacity = local[LOCAL.capacity] as number;
  localSlope[offset + PROBE.bias] = 1;
  localSlope[offset + PROBE.slowNoise] = 1;
  const base = at(PROBE.bias) + at(PROBE.slowNoise);
  if (probe.spec.kind === 'tray-weight') {
    localSlope[LOCAL.water] = trayVolumeMl;
    return {
      innovation: value - (base + trayVolumeMl * water),
      localSlope,
      noiseVariance: weightWhiteSdG(trayVolumeMl) ** 2,
    };
  }
  const warmth = temperatureC - REFERENCE_C;
  localSlope[offset + PROBE.temperature] = warmth;
  localSlope[offset + PROBE.depth] = recentDryingPerH;
  const byWarmth = at(PROBE.temperature) * warmth + at(PROBE.depth) * recentDryingPerH;
  if (calibration !== undefined) {
    const gain = at(PROBE.gain);
    const bulge = bulgeAt(calibration, water);
    localSlope[LOCAL.water] = Math.max(0.3, 1 + gain + at(PROBE.bend) * bulge.slope);
    localSlope[LOCAL.capacity] = -gain;
    localSlope[offset + PROBE.gain] = water - capacity;
    localSlope[offset + PROBE.bend] = bulge.height;
    return {
      innovation:
        value - (water + gain * (water - capacity) + at(PROBE.bend) * bulge.height + base + byWarmth),
      localSlope,
      noiseVariance: MOISTURE_WHITE_SD ** 2 + carriedOnSd ** 2,
    };
  }
  const perWater = probe.drySign * Math.exp(Math.max(-3, Math.min(3, at(PROBE.gain))));
  const deficit = capacity - water;
  const bend = at(PROBE.bend);
  const slope = perWater * Math.max(0.3, 1 + 2 * bend * deficit);
  localSlope[LOCAL.water] = -slope;
  localSlope[LOCAL.capacity] = slope;
  localSlope[offset + PROBE.gain] = perWater * deficit * (1 + bend * deficit);
  localSlope[offset + PROBE.bend] = perWater * deficit * deficit;
  return {
    innovation: value - (base + perWater * deficit * (1 + bend * deficit) + byWarmth),
    localSlope,
    noiseVariance: RAW_WHITE_SD_V ** 2,
  };
}

/** A parabola that is 0 at the driest and wettest weighed point and 1 midway, and its slope per m³/m³. */
function bulgeAt(
  calibration: Calibration,
  water: number,
): { readonly height: number; readonly slope: number } {
  const dry = calibration.waterContentM3PerM3(calibration.driestVolts);
  const wet = calibration.waterContentM3PerM3(calibration.wettestVolts);
  const span = Math.max(0.05, wet - dry);
  const inside = Math.min(wet + 0.2 * span, Math.max(dry - 0.2 * span, water));
  return {
    height: (4 * (inside - dry) * (wet - inside)) / span ** 2,
    slope: (4 * (dry + wet - 2 * inside)) / span ** 2,
  };
}

/** Readings per m³/m³ at the belief's mean: what a change of the probe is worth in water. */
export function unitsPerWater(
  belief: Belief,
  probe: ProbeState,
  trayVolumeMl: number,
  calibrated: boolean,
): number {
  if (probe.spec.kind === 'tray-weight') return trayVolumeMl;
  const gain = belief.mean[probeOffset(probe) + PROBE.gain] as number;
  return calibrated ? Math.max(0.3, 1 + gain) : Math.exp(Math.max(-3, Math.min(3, gain)));
}
