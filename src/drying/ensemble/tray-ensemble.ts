import type { BenchOutlook } from '../climate/outlook.js';
import { DRY_END_INDEX } from '../filter/process-step.js';
import { HORIZON_H, MEMBER_COUNT, type MemberDraws } from './member-draws.js';
import type { SampledTray } from './sample-belief.js';

/** Leads at which the drawdown is kept, so that the forecast can be scored later, h. */
export const SCORED_LEADS_H = [3, 6, 12, 24, 48] as const;

/** Hours of each member until the mean block, and until a tenth of the blocks, are at the refill point. */
export interface EnsembleHours {
  readonly meanBlock: Float64Array;
  readonly driestTenth: Float64Array;
}

/** Prior drying of a tray per hour of the outlook, for one kPa and for one W/m². */
export interface HourlyDrive {
  readonly airPerKPa: Float64Array;
  readonly sunPerWPerM2: Float64Array;
}

/** How unsure the driest tenth's rate over the mean block's is, natural log (judgement). */
const DRIEST_RATIO_LOG_SD = 0.08;

/** Hours to refill of every member, unsorted; `Infinity` beyond the horizon. */
export function ensembleHours(
  tray: SampledTray,
  drive: HourlyDrive,
  outlook: BenchOutlook,
  draws: MemberDraws,
  driestRatio: number,
): EnsembleHours {
  const meanBlock = new Float64Array(MEMBER_COUNT);
  const driestTenth = new Float64Array(MEMBER_COUNT);
  const ratioDraw = draws.state[6] as Float64Array;
  for (let m = 0; m < MEMBER_COUNT; m++) {
    const refill = tray.refill[m] as number;
    const capacity = tray.capacity[m] as number;
    const span = capacity - refill;
    const kneeWater = refill + (tray.kneeIndex[m] as number) * span;
    const dryEnd = refill + DRY_END_INDEX * span;
    const airFactor = tray.airFactor[m] as number;
    const sunFactor = tray.sunFactor[m] as number;
    const ratio = driestRatio * Math.exp(DRIEST_RATIO_LOG_SD * (ratioDraw[m] as number));
    const tenthWater = capacity - span / Math.max(1, ratio);
    let water = tray.water[m] as number;
    let tenthAt = water <= tenthWater ? 0 : Number.POSITIVE_INFINITY;
    let meanAt = water <= refill ? 0 : Number.POSITIVE_INFINITY;
    let standsH = 0;
    for (let lead = 0; lead < HORIZON_H && meanAt === Number.POSITIVE_INFINITY; lead++) {
      if (lead >= standsH) standsH = outlook.reach(m, lead);
      const at = m * HORIZON_H + lead;
      let rate =
        (drive.airPerKPa[lead] as number) * (outlook.vpdKPa[at] as number) * airFactor +
        (drive.sunPerWPerM2[lead] as number) * (outlook.solarWPerM2[at] as number) * sunFactor;
      if (water < kneeWater) rate *= Math.max(0.01, (water - dryEnd) / (kneeWater - dryEnd));
      const next = water - rate;
      if (next <= tenthWater && tenthAt === Number.POSITIVE_INFINITY)
        tenthAt = lead + (water - tenthWater) / rate;
      if (next <= refill) meanAt = lead + (water - refill) / rate;
      water = next;
    }
    meanBlock[m] = meanAt;
    driestTenth[m] = tenthAt;
  }
  return { meanBlock, driestTenth };
}

/** Sorted fall of water content at one lead over all members, m³/m³. */
export function ensembleDrawdown(
  tray: SampledTray,
  drive: HourlyDrive,
  outlook: BenchOutlook,
  leadsH: readonly number[],
): readonly Float64Array[] {
  const falls = leadsH.map(() => new Float64Array(MEMBER_COUNT));
  const longest = Math.max(0, ...leadsH);
  for (let m = 0; m < MEMBER_COUNT; m++) {
    const refill = tray.refill[m] as number;
    const span = (tray.capacity[m] as number) - refill;
    const kneeWater = refill + (tray.kneeIndex[m] as number) * span;
    const dryEnd = refill + DRY_END_INDEX * span;
    const start = tray.water[m] as number;
    let water = start;
    if (longest > 0) outlook.reach(m, longest - 1);
    for (let lead = 0; lead < longest; lead++) {
      const at = m * HORIZON_H + lead;
      let rate =
        (drive.airPerKPa[lead] as number) * (outlook.vpdKPa[at] as number) * (tray.airFactor[m] as number) +
        (drive.sunPerWPerM2[lead] as number) *
          (outlook.solarWPerM2[at] as number) *
          (tray.sunFactor[m] as number);
      if (water < kneeWater) rate *= Math.max(0.01, (water - dryEnd) / (kneeWater - dryEnd));
      water -= rate;
      const kept = leadsH.indexOf(lead + 1);
      if (kept >= 0) (falls[kept] as Float64Array)[m] = start - water;
    }
  }
  for (const fall of falls) fall.sort();
  return falls;
}
