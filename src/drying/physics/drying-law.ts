import { S_PER_HOUR } from '../../../shared/base/time-units.js';
import type { Cover } from '../../../shared/config/trays.js';
import { LATENT_HEAT_J_PER_KG } from './air/air.js';
import { saturationSlopeKPaPerK, saturationVapourPressureKPa } from './air/psychrometrics.js';
import { dryAirWPerM2PerKPa, radiationShare } from './combination.js';
import { COVER_FACTOR, COVER_SUN_FACTOR } from './cover.js';
import { leafConductanceMPerS } from './growth.js';
import { type TrayExchange, withLeaves } from './tray-exchange.js';

/**
 * The drying law of the house, for filter, forecast, estimate and desk alike. Weather drives a wet tray at a potential rate
 * P (the combination equation: sun, bottom heat, and what heat dry air brings); a block loses P while it is wet, and below the
 * knee in proportion to what is left above the dry end: dθ/dt = −P(t)·f(θ). FAO-56 Eq 74 (Kr) and the characteristic drying
 * curve of chemical engineering (van Meel) are this one f. It is solved over ∫P dt, exactly, so that no step is too long.
 */

/** Share of sunlight that a tray of wet, dark blocks keeps; wet dark soil reflects 0.10 to 0.20 (from memory). */
export const SOLAR_ABSORPTANCE = 0.85;
/**
 * Drying goes on in the dark and in air that is told as saturated: nowhere on a bench is it quite, and usual probes are right within
 * 2 % (their data sheets). Share of the saturation pressure that is missing at the least.
 */
const LEAST_DEFICIT_SHARE = 0.02;

/** What a tray is to the weather. */
export interface TrayStand {
  /** Of the bare blocks, with the air of the bench. */
  readonly exchange: TrayExchange;
  readonly cover: Cover;
  /** Leaves, as a share of those at transplant size; see `leafShare`. */
  readonly leafShare: number;
}

/** Potential drying per unit of each of its causes at one temperature, m³/m³ per hour. */
export interface DryingTerms {
  readonly perKPa: number;
  /** The deficit counts as this at the least, kPa. */
  readonly leastDeficitKPa: number;
  readonly perSunWPerM2: number;
  /** Sun can't drive off more than its own energy, however fast the tray is believed to dry. */
  readonly mostPerSunWPerM2: number;
  readonly perBottomHeatWPerM2: number;
}

/** The terms of a tray at `temperatureC`; `solarWPerM2` opens or closes the leaves and does not enter otherwise. */
export function dryingTerms(stand: TrayStand, temperatureC: number, solarWPerM2: number): DryingTerms {
  const { exchange, cover } = stand;
  const leaves = leafConductanceMPerS(stand.leafShare, solarWPerM2);
  const surface = leaves > 0 ? withLeaves(exchange, leaves) : exchange;
  const slope = saturationSlopeKPaPerK(temperatureC);
  const perWPerM2 = S_PER_HOUR / (LATENT_HEAT_J_PER_KG * exchange.mediumDepthMm);
  const share = radiationShare(slope, surface.apparentGammaKPaPerK);
  return {
    perKPa: perWPerM2 * COVER_FACTOR[cover] * dryAirWPerM2PerKPa(surface, slope),
    leastDeficitKPa: LEAST_DEFICIT_SHARE * saturationVapourPressureKPa(temperatureC),
    perSunWPerM2: perWPerM2 * COVER_SUN_FACTOR[cover] * SOLAR_ABSORPTANCE * share,
    mostPerSunWPerM2: perWPerM2,
    perBottomHeatWPerM2: perWPerM2 * COVER_SUN_FACTOR[cover] * share,
  };
}

/** Weather at a tray. */
export interface TrayWeather {
  readonly temperatureC: number;
  readonly vpdKPa: number;
  readonly solarWPerM2: number;
  readonly bottomHeatWPerM2?: number | undefined;
}

/** Potential drying of a wet tray, m³/m³ per hour. */
export function potentialDryingPerH(stand: TrayStand, weather: TrayWeather): number {
  const terms = dryingTerms(stand, weather.temperatureC, weather.solarWPerM2);
  return (
    terms.perKPa * Math.max(terms.leastDeficitKPa, weather.vpdKPa) +
    terms.perSunWPerM2 * weather.solarWPerM2 +
    terms.perBottomHeatWPerM2 * (weather.bottomHeatWPerM2 ?? 0)
  );
}

/** Where a block's rate begins to fall and where drying ends, in one unit of water with the water content. */
export interface FallingStage {
  readonly knee: number;
  readonly dryEnd: number;
}

/** Moisture index at which a block has stopped drying (judgement, deep below refill). */
const DRY_END_INDEX = -0.9;
/** A falling stage shorter than this, as an index, is not believed: the block would stop at a wall (judgement). */
const SHORTEST_FALLING_STAGE = 0.3;

/** Knee and dry end in m³/m³ of a tray whose knee lies at this moisture index. */
export function fallingStage(refill: number, capacity: number, kneeIndex: number): FallingStage {
  const span = capacity - refill;
  return {
    knee: refill + Math.max(kneeIndex, DRY_END_INDEX + SHORTEST_FALLING_STAGE) * span,
    dryEnd: refill + DRY_END_INDEX * span,
  };
}

/**
 * Share of the potential rate at which a block still dries, 0 to 1: 1 above the knee, 0 at and below the dry end, linear
 * between. A knee at or below the dry end means constant rate down to the dry end.
 */
export function dryingRateFactor(waterContent: number, { knee, dryEnd }: FallingStage): number {
  if (waterContent >= knee) return waterContent > dryEnd ? 1 : 0;
  if (waterContent <= dryEnd) return 0;
  return (waterContent - dryEnd) / (knee - dryEnd);
}

/** Water content after `potentialDrying` = ∫P dt, same unit as the water content, ≥ 0. */
export function dryBy(waterContent: number, potentialDrying: number, stage: FallingStage): number {
  const { knee, dryEnd } = stage;
  if (waterContent <= dryEnd || potentialDrying <= 0) return waterContent;
  if (knee <= dryEnd) return Math.max(dryEnd, waterContent - potentialDrying);
  const untilKnee = waterContent - knee;
  if (potentialDrying <= untilKnee) return waterContent - potentialDrying;
  const above = untilKnee > 0 ? knee - dryEnd : waterContent - dryEnd;
  const inFalling = untilKnee > 0 ? potentialDrying - untilKnee : potentialDrying;
  return dryEnd + above * Math.exp(-inFalling / (knee - dryEnd));
}

/**
 * Potential drying needed to fall from `waterContent` to `target` (inverse of `dryBy`); 0 when already there,
 * Infinity when the target is at or below the dry end of a falling-rate stage.
 */
export function potentialDryingUntil(waterContent: number, target: number, stage: FallingStage): number {
  const { knee, dryEnd } = stage;
  if (waterContent <= target) return 0;
  if (target >= knee) return waterContent - target;
  if (knee <= dryEnd) return target >= dryEnd ? waterContent - target : Number.POSITIVE_INFINITY;
  if (target <= dryEnd) return Number.POSITIVE_INFINITY;
  const constantStage = waterContent > knee ? waterContent - knee : 0;
  const fallingFrom = Math.min(waterContent, knee);
  return constantStage + (knee - dryEnd) * Math.log((fallingFrom - dryEnd) / (target - dryEnd));
}

/** How `dryBy`'s result moves with what it started from. */
export interface DryingSlopes {
  readonly perWaterContent: number;
  /** Per unit of potential drying; negative. */
  readonly perPotential: number;
  /** Per unit by which the knee lies higher; positive: such a block slows sooner. */
  readonly perKnee: number;
}

/**
 * Derivatives of `after = dryBy(before, potentialDrying, stage)`, exact: both contents run down the same curve, so what lies
 * between them shrinks as their rates.
 */
export function dryingSlopes(
  before: number,
  after: number,
  potentialDrying: number,
  stage: FallingStage,
): DryingSlopes {
  const rateBefore = dryingRateFactor(before, stage);
  const rateAfter = dryingRateFactor(after, stage);
  if (rateBefore <= 0) return { perWaterContent: 1, perPotential: 0, perKnee: 0 };
  const length = stage.knee - stage.dryEnd;
  const perKnee =
    length > 0
      ? (rateAfter / length) *
        (potentialDrying - (before - stage.dryEnd) / rateBefore + (after - stage.dryEnd) / rateAfter)
      : 0;
  return { perWaterContent: rateAfter / rateBefore, perPotential: -rateAfter, perKnee };
}
