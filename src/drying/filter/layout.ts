import { HOURS_PER_DAY } from '../../../shared/base/time-units.js';
import type { SharedComponent } from './shared-state.js';

/** Local components that every tray has; `PROBE_WIDTH` more follow for each of its probes. */
export const LOCAL = {
  /** Water content of the mean block, m³/m³. */
  water: 0,
  /** Log of this tray's drying rate relative to what size and bench say. */
  rate: 1,
  /** Container capacity, m³/m³. */
  capacity: 2,
  /** Refill point, m³/m³. */
  refill: 3,
  /** Log of the cover factor relative to its prior; counts while a cover is on. */
  cover: 4,
} as const;
export const TRAY_WIDTH = Object.keys(LOCAL).length;

/** Local components of one probe, at `probeOffset + …`; what they mean depends on its kind. */
export const PROBE = {
  /** Moisture: offset of the witness block from the mean block. Raw moisture: volts at capacity. Weight: tare, g. */
  bias: 0,
  /** Error that comes and goes over hours, unit of the reading. */
  slowNoise: 1,
  /** Moisture: relative gain error. Raw moisture: log of volts per m³/m³. */
  gain: 2,
  /** Change of the reading per K. */
  temperature: 3,
  /** Calibrated moisture: how far the curve bulges midway between the weighed points, m³/m³. Raw: see `RAW_BEND`. */
  bend: 4,
  /** Change of the reading per drying of the last hours (m³/m³ per hour): it sees the skin or the core of its block. */
  depth: 5,
} as const;
export const PROBE_WIDTH = Object.keys(PROBE).length;

/** Positions of the shared components in a tray's links. */
export const LINK = {
  farmRate: 0,
  sizeSlope: 1,
  knee: 2,
  sizeRate: 3,
  benchAir: 4,
  benchSun: 5,
  benchCloud: 6,
  benchLean: 7,
} as const;
export const LINK_COUNT = Object.keys(LINK).length;

/** Variance per hour of what wanders by this standard deviation in a day. */
export const perDay = (sd: number): number => sd ** 2 / HOURS_PER_DAY;

/** Crops, weather and what stands around change how fast a farm, a size and a bench dry (judgement). */
const WANDER_VAR_PER_H = perDay(0.02);

/** Side at which the size slope has no effect, mm: the middle of the common three. */
export const MIDDLE_SIDE_MM = 38;

/**
 * Priors of the shared components: logs of what multiplies the physics. Widths are judgement: air speed, shelter and
 * sunlight on a bench are each known within a factor of about 1.4, sizes scale within ±15 % (science of the drying
 * block: 1 : 2.3 : 3.5 with bounds 2.0 to 2.8 and 2.7 to 4.3).
 */
export const farmRate: SharedComponent = {
  name: 'farm-rate',
  priorMean: 0,
  priorSd: 0.3,
  wanderVarPerH: WANDER_VAR_PER_H,
};
export const sizeSlope: SharedComponent = {
  name: 'size-slope',
  priorMean: 0,
  priorSd: 0.3,
  wanderVarPerH: 0,
};
/** Knee of the falling rate as a moisture index: 0 at the refill point, 1 at capacity. */
export const knee: SharedComponent = { name: 'knee', priorMean: -0.05, priorSd: 0.15, wanderVarPerH: 0 };

export function sizeRate(blockSideMm: number): SharedComponent {
  return {
    name: `size-rate ${blockSideMm}`,
    priorMean: 0,
    priorSd: 0.1,
    wanderVarPerH: WANDER_VAR_PER_H,
  };
}
export function benchAir(benchId: string, airSpeedKnown: boolean): SharedComponent {
  return {
    name: `bench-air ${benchId}`,
    priorMean: 0,
    priorSd: airSpeedKnown ? 0.2 : 0.35,
    wanderVarPerH: WANDER_VAR_PER_H,
  };
}
export function benchSun(benchId: string, hasLight: boolean): SharedComponent {
  return {
    name: `bench-sun ${benchId}`,
    priorMean: 0,
    priorSd: hasLight ? 0.4 : 0.6,
    wanderVarPerH: WANDER_VAR_PER_H,
  };
}
export const CLOUD_MEMORY_H = 8;

/** Sun of the hour relative to what is taken for it: clouds without a light probe, shade with one. */
export function benchCloud(benchId: string, hasLight: boolean): SharedComponent {
  return {
    name: `bench-cloud ${benchId}`,
    priorMean: 0,
    priorSd: hasLight ? 0.15 : 0.4,
    wanderVarPerH: 0,
    memoryH: CLOUD_MEMORY_H,
  };
}
/** Sun of the afternoon relative to the morning. */
export function benchLean(benchId: string, hasLight: boolean): SharedComponent {
  return {
    name: `bench-lean ${benchId}`,
    priorMean: 0,
    priorSd: hasLight ? 0.1 : 0.3,
    wanderVarPerH: WANDER_VAR_PER_H,
  };
}
