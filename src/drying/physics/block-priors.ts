import { containerCapacityM3PerM3, SPHAGNUM_PEAT } from './retention.js';

/** A believed value before anything was measured, with its standard deviation. */
export interface Prior {
  readonly mean: number;
  readonly sd: number;
}

/** What is believed of a block of one size on the first day; every entry is learned afterwards. */
export interface BlockPriors {
  readonly containerCapacityM3PerM3: Prior;
  readonly refillPointM3PerM3: Prior;
  /** Correlation of the two: what a mix gives up between them is better known than either. */
  readonly capacityRefillCorrelation: number;
  /** Natural log of the factor on the physical drying rate. */
  readonly logRate: Prior;
}

/** 1 1/2 in block, to which the priors of other heights are referred. */
const REFERENCE_SIDE_MM = 38;
/** θ_full 0.65 ± 0.10, θ_refill 0.35 ± 0.08 for a pressed peat or coir mix: judgement, no published value exists. */
const CAPACITY: Prior = { mean: 0.65, sd: 0.1 };
const REFILL: Prior = { mean: 0.35, sd: 0.08 };
/**
 * A mix that holds more when full also calls for water earlier: the water between the two is 0.30 ± 0.08 (easily
 * available and buffering water of growing media together are 0.24 to 0.40 of the volume; from memory).
 */
const CAPACITY_REFILL_CORRELATION = 0.6;
/**
 * Pressing takes away the large pores, whose draining makes a tall block drier: the height effect of loose peat counts
 * half (judgement).
 */
const HEIGHT_EFFECT_EXPONENT = 0.5;
/** A wet mix cannot hold more than its pores; 20 to 30 % solids (trade literature). */
const LARGEST_CAPACITY = 0.75;
/** Scatter between farms, mixes and benches of the physical rate, natural log (judgement). */
const LOG_RATE_SD = 0.35;

/** Priors of a block of `blockSideMm` 10 to 300: short blocks hold more water per volume than tall ones. */
export function blockPriors(blockSideMm: number): BlockPriors {
  const height =
    containerCapacityM3PerM3(SPHAGNUM_PEAT, blockSideMm) /
    containerCapacityM3PerM3(SPHAGNUM_PEAT, REFERENCE_SIDE_MM);
  return {
    containerCapacityM3PerM3: {
      mean: Math.min(LARGEST_CAPACITY, CAPACITY.mean * height ** HEIGHT_EFFECT_EXPONENT),
      sd: CAPACITY.sd,
    },
    refillPointM3PerM3: REFILL,
    capacityRefillCorrelation: CAPACITY_REFILL_CORRELATION,
    logRate: { mean: 0, sd: LOG_RATE_SD },
  };
}
