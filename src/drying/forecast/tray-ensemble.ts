import { HORIZON_H, MEMBER_COUNT, MIDDLE_MEMBER } from '../climate/member-draws.js';
import type { BenchOutlook } from '../climate/outlook.js';
import { driestTenthPotential } from '../physics/driest-tenth.js';
import { dryBy, fallingStage, potentialDryingUntil } from '../physics/drying-law.js';
import type { SampledTray } from './sample-belief.js';

/** Hours of each member until the mean block, and until a tenth of the blocks, are at the refill point. */
export interface EnsembleHours {
  readonly meanBlock: Float64Array;
  readonly driestTenth: Float64Array;
}

/** Terms of the drying law for each hour of the outlook. */
export interface HourlyDrive {
  readonly airPerKPa: Float64Array;
  readonly leastDeficitKPa: Float64Array;
  readonly sunPerWPerM2: Float64Array;
  readonly bottomHeatPerH: Float64Array;
}

/** Potential drying of one member in one hour of the outlook, m³/m³. */
function potentialInHour(
  tray: SampledTray,
  drive: HourlyDrive,
  outlook: BenchOutlook,
  member: number,
  lead: number,
): number {
  const at = member * HORIZON_H + lead;
  const deficitKPa = Math.max(drive.leastDeficitKPa[lead] as number, outlook.vpdKPa[at] as number);
  const byAir = (drive.airPerKPa[lead] as number) * deficitKPa + (drive.bottomHeatPerH[lead] as number);
  const bySun = (drive.sunPerWPerM2[lead] as number) * (outlook.solarWPerM2[at] as number);
  return byAir * (tray.airFactor[member] as number) + bySun * (tray.sunFactor[member] as number);
}

/** Potential drying of each hour to come without any spread, m³/m³. */
export function middlePotential(tray: SampledTray, drive: HourlyDrive, outlook: BenchOutlook): Float64Array {
  outlook.reach(MIDDLE_MEMBER, HORIZON_H - 1);
  return Float64Array.from({ length: HORIZON_H }, (_, lead) =>
    potentialInHour(tray, drive, outlook, MIDDLE_MEMBER, lead),
  );
}

/** Hours to refill of every member, unsorted; `Infinity` beyond the horizon. */
export function ensembleHours(
  tray: SampledTray,
  drive: HourlyDrive,
  outlook: BenchOutlook,
  driestRatio: number,
): EnsembleHours {
  const meanBlock = new Float64Array(MEMBER_COUNT);
  const driestTenth = new Float64Array(MEMBER_COUNT);
  for (let m = 0; m < MEMBER_COUNT; m++) {
    const water = tray.water[m] as number;
    const refill = tray.refill[m] as number;
    const capacity = tray.capacity[m] as number;
    const stage = fallingStage(refill, capacity, tray.kneeIndex[m] as number);
    const forMean = potentialDryingUntil(water, refill, stage);
    const forTenth = Math.min(forMean, driestTenthPotential(water, refill, capacity, driestRatio, stage));
    let tenthAt = forTenth <= 0 ? 0 : Number.POSITIVE_INFINITY;
    let meanAt = forMean <= 0 ? 0 : Number.POSITIVE_INFINITY;
    let before = 0;
    let standsH = 0;
    for (let lead = 0; lead < HORIZON_H && meanAt === Number.POSITIVE_INFINITY; lead++) {
      if (lead >= standsH) standsH = outlook.reach(m, lead);
      const potential = potentialInHour(tray, drive, outlook, m, lead);
      const after = before + potential;
      if (after >= forTenth && tenthAt === Number.POSITIVE_INFINITY)
        tenthAt = lead + (forTenth - before) / potential;
      if (after >= forMean) meanAt = lead + (forMean - before) / potential;
      before = after;
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
    const start = tray.water[m] as number;
    const stage = fallingStage(
      tray.refill[m] as number,
      tray.capacity[m] as number,
      tray.kneeIndex[m] as number,
    );
    if (longest > 0) outlook.reach(m, longest - 1);
    let potential = 0;
    for (let lead = 0; lead < longest; lead++) {
      potential += potentialInHour(tray, drive, outlook, m, lead);
      const kept = leadsH.indexOf(lead + 1);
      if (kept >= 0) (falls[kept] as Float64Array)[m] = start - dryBy(start, potential, stage);
    }
  }
  for (const fall of falls) fall.sort();
  return falls;
}
