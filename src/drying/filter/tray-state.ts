import type { Cover } from '../../../shared/config/trays.js';
import type { TrayExperts } from '../experts/tray-experts.js';
import type { TraySpec } from '../model/farm-model.js';
import { blockPriors, type Prior } from '../physics/block-priors.js';
import { driestTenthRateRatio } from '../physics/driest-tenth.js';
import { type TrayExchange, trayExchange } from '../physics/tray-exchange.js';
import { trayVolumeMl } from '../physics/tray-geometry.js';
import { type Belief, newBelief, recentre } from './belief.js';
import { LOCAL, MIDDLE_SIDE_MM, TRAY_WIDTH } from './layout.js';
import type { ProbeState } from './probe-state.js';
import type { SharedState } from './shared-state.js';

/** A pour that the tray took, told or detected. */
export interface Pour {
  readonly atMs: number;
  readonly source: 'logged' | 'detected';
  readonly ml: number | undefined;
}

/** The fall since the last pour, for the drying curves. */
export interface OpenDryDown {
  startedAtMs: number;
  startWaterContentM3PerM3: number;
  refillReachedAtMs: number | undefined;
  sumTemperatureC: number;
  sumVpdKPa: number;
  sumSolarWPerM2: number;
  temperatureSteps: number;
  vpdSteps: number;
  solarSteps: number;
}

/** Water content foretold for an instant ahead, to be scored if no pour comes between. */
export interface AwaitedForecast {
  readonly madeAtMs: number;
  readonly dueAtMs: number;
  readonly leadH: number;
  readonly startWater: number;
  /** Fall until then: quantiles .1 .5 .9, m³/m³. */
  readonly fall: readonly [number, number, number];
}

/** A pour that a probe is showing: told of when its rise is over. */
export interface OpenRise {
  readonly probeId: string;
  readonly startedAtMs: number;
  readonly noticedAtMs: number;
  readonly waterBefore: number;
  /** The probe's wetness before, and its units per m³/m³. */
  readonly before: number;
  readonly perWater: number;
}

export interface TrayState {
  readonly id: string;
  spec: TraySpec;
  benchId: string;
  cover: Cover;
  sownAtMs: number | undefined;
  germinatedAtMs: number | undefined;
  exchange: TrayExchange;
  /** Rate of the driest tenth over the mean block's. */
  driestRatio: number;
  readonly volumeMl: number;
  readonly logSide: number;
  links: Int32Array;
  beliefs: Belief[];
  probes: ProbeState[];
  /** A poured tray stands in water until then: what dries is replaced. */
  soakingUntilMs: number;
  /** Readings before this instant are left out: the block is still wicking. */
  wickingUntilMs: number;
  lastPour: Pour | undefined;
  /** When somebody last said how it stands: looked, ready for water, weighed. */
  toldAtMs: number | undefined;
  openRise: OpenRise | undefined;
  dryDown: OpenDryDown | undefined;
  finishedDryDowns: number;
  /** Drying of the last hours, m³/m³ per hour: how far skin and core of the blocks stand apart. */
  recentDryingPerH: number;
  /** Forecasts of the water content that wait to come true. */
  awaited: AwaitedForecast[];
  /** What its calibrated moisture probe teaches besides the block model; none without one. */
  experts?: TrayExperts | undefined;
  /** Mean water content by step, newest last, since the last pour: what a late word needs. */
  trace: { atMs: number; water: number }[];
}

/** Air speed taken when nobody says: a small house with leakage ventilation and people moving (common practice). */
export const USUAL_AIR_SPEED_M_PER_S = 0.12;

/** Water that a tray surely has between capacity and refill point where only one of them is known, m³/m³. */
const LEAST_SPAN = 0.15;
const KNOWN_CAPACITY_SD = 0.012;
/** A refill point that somebody configured is what "dry" means; nothing is left to doubt. */
const KNOWN_REFILL_SD = 1e-4;
/** A tray comes into the house somewhere between just pressed or watered and half used. */
export const FIRST_INDEX = { mean: 0.75, sd: 0.3 } as const;
const TRAY_RATE_SD = 0.12;
const COVER_SD = 0.5;

export function logSideOf(blockSideMm: number): number {
  return Math.log(blockSideMm / MIDDLE_SIDE_MM);
}

export function exchangeOf(spec: TraySpec, airSpeedMPerS: number | undefined): TrayExchange {
  return trayExchange(
    { blockSideMm: spec.blockSideMm, blockCount: spec.blockCount, trayAreaM2: spec.trayAreaM2 },
    airSpeedMPerS ?? USUAL_AIR_SPEED_M_PER_S,
  );
}

/** Capacity and refill point as configured; where only one is, the other follows it as far as the two go together. */
function levelsOf(spec: TraySpec): {
  readonly capacity: Prior;
  readonly refill: Prior;
  readonly covariance: number;
} {
  const priors = blockPriors(spec.blockSideMm);
  const { containerCapacityM3PerM3: full, refillPointM3PerM3: dry, capacityRefillCorrelation: tie } = priors;
  const { containerCapacityM3PerM3: knownFull, refillPointM3PerM3: knownDry } = spec;
  const leftSd = Math.sqrt(1 - tie ** 2);
  const given = (prior: Prior, other: Prior, known: number): Prior => ({
    mean: prior.mean + ((tie * prior.sd) / other.sd) * (known - other.mean),
    sd: prior.sd * leftSd,
  });
  const fromDry = knownDry === undefined ? full : given(full, dry, knownDry);
  const capacity =
    knownFull === undefined
      ? { mean: Math.min(0.95, Math.max(fromDry.mean, (knownDry ?? 0) + LEAST_SPAN)), sd: fromDry.sd }
      : { mean: knownFull, sd: KNOWN_CAPACITY_SD };
  const fromFull = knownFull === undefined ? dry : given(dry, full, knownFull);
  const refill =
    knownDry === undefined
      ? { mean: Math.max(0.02, Math.min(fromFull.mean, capacity.mean - LEAST_SPAN)), sd: fromFull.sd }
      : { mean: Math.max(0.02, knownDry), sd: KNOWN_REFILL_SD };
  const both = knownFull === undefined && knownDry === undefined;
  return { capacity, refill, covariance: both ? tie * capacity.sd * refill.sd : 0 };
}

/** Prior belief about a tray that has just come into the house. */
export function firstBelief(spec: TraySpec, links: Int32Array, shared: SharedState): Belief {
  const belief = newBelief(TRAY_WIDTH, links, shared);
  const { capacity, refill, covariance } = levelsOf(spec);
  const span = capacity.mean - refill.mean;
  const set = (component: number, mean: number, sd: number): void => {
    belief.mean[component] = mean;
    belief.covariance[component * TRAY_WIDTH + component] = sd ** 2;
  };
  set(LOCAL.water, refill.mean + FIRST_INDEX.mean * span, FIRST_INDEX.sd * span);
  set(LOCAL.rate, 0, TRAY_RATE_SD);
  set(LOCAL.capacity, capacity.mean, capacity.sd);
  set(LOCAL.refill, refill.mean, refill.sd);
  belief.covariance[LOCAL.capacity * TRAY_WIDTH + LOCAL.refill] = covariance;
  belief.covariance[LOCAL.refill * TRAY_WIDTH + LOCAL.capacity] = covariance;
  set(LOCAL.cover, 0, COVER_SD);
  return belief;
}

/** Hours for which a block of this side still wicks after a pour: 1.5 h for minis, up to 4 h (common practice). */
export function wickingH(blockSideMm: number): number {
  return Math.min(4, Math.max(1.5, 1.5 + ((blockSideMm - 19) * 2) / 32));
}

/**
 * Hours for which a poured tray stands in water: 0.75 h for a block of 30 mm, longer for larger ones as their height to
 * the 0.6 (common practice: half an hour to an hour and a half, until the blocks are dark to the top).
 */
export function soakH(blockSideMm: number): number {
  return Math.min(2, 0.75 * (blockSideMm / 30) ** 0.6);
}

export function newTrayState(
  spec: TraySpec,
  airSpeedMPerS: number | undefined,
  links: Int32Array,
  shared: SharedState,
): TrayState {
  return {
    id: spec.id,
    spec,
    benchId: spec.benchId,
    cover: spec.cover,
    sownAtMs: spec.sownAtMs,
    germinatedAtMs: spec.germinatedAtMs,
    exchange: exchangeOf(spec, airSpeedMPerS),
    driestRatio: driestTenthRateRatio(spec, airSpeedMPerS ?? USUAL_AIR_SPEED_M_PER_S),
    volumeMl: trayVolumeMl(spec),
    logSide: logSideOf(spec.blockSideMm),
    links,
    beliefs: [firstBelief(spec, links, shared)],
    probes: [],
    soakingUntilMs: 0,
    wickingUntilMs: 0,
    lastPour: undefined,
    toldAtMs: undefined,
    openRise: undefined,
    dryDown: undefined,
    finishedDryDowns: 0,
    recentDryingPerH: 0,
    awaited: [],
    trace: [],
  };
}

/** Carries all that is believed of a tray to where the shared components stand now. */
export function settleTray(tray: TrayState, shared: SharedState): void {
  for (const belief of tray.beliefs) recentre(belief, tray.links, shared);
}

/** The hypothesis with the greatest weight. */
export function leadingBelief(tray: TrayState): Belief {
  let best = tray.beliefs[0];
  for (const belief of tray.beliefs) if (best === undefined || belief.weight > best.weight) best = belief;
  if (best === undefined) throw new RangeError(`tray ${tray.id} has no belief`);
  return best;
}

/** Mean of one local component over the hypotheses. */
export function meanLocal(tray: TrayState, component: number): number {
  let sum = 0;
  for (const belief of tray.beliefs) sum += belief.weight * (belief.mean[component] as number);
  return sum;
}
