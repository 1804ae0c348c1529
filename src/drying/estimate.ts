import { HOURS_PER_DAY, S_PER_HOUR } from '../../shared/base/time-units.js';
import type { Cover } from '../../shared/config/trays.js';
import { normalQuantile } from '../numbers/normal.js';
import { TENTHS } from './model/tray-forecast.js';
import { saturationVapourPressureKPa, vapourPressureKPa } from './physics/air/psychrometrics.js';
import { blockPriors, type Prior } from './physics/block-priors.js';
import { COVER_LOG_SD } from './physics/cover.js';
import { driestTenthRateRatio } from './physics/driest-tenth.js';
import { dryingTerms } from './physics/drying-law.js';
import { leafShare } from './physics/growth.js';
import { trayExchange } from './physics/tray-exchange.js';
import { blockVolumeMl, type TrayShape, trayVolumeMl } from './physics/tray-geometry.js';

/** A typical day on the bench. */
export interface EstimateClimate {
  /** By day; at night too when `nightTemperatureC` is absent. */
  readonly temperatureC: number;
  readonly relativeHumidityPct: number;
  /** Humidity of the night follows from the same water in the air. */
  readonly nightTemperatureC?: number | undefined;
  readonly airSpeedMPerS: number;
  /** Sun that reaches the bench in a day. */
  readonly solarMJPerM2Day: number;
  readonly dayLengthH: number;
  /** Heat that a mat or pipes give the trays, mean of day and night. */
  readonly bottomHeatWPerM2?: number | undefined;
}

/** A tray that is watered in the morning and left alone. */
export interface EstimateTray extends TrayShape {
  readonly cover: Cover;
  /** Absent: nothing has come up yet. */
  readonly daysSinceGermination?: number | undefined;
  readonly containerCapacityM3PerM3?: number | undefined;
  readonly refillPointM3PerM3?: number | undefined;
}

/** Tenth, middle and ninetieth of a hundred farms; undefined beyond `ESTIMATE_HORIZON_H`. */
export interface EstimateRange {
  readonly p10: number | undefined;
  readonly p50: number | undefined;
  readonly p90: number | undefined;
}

export interface BlockEstimate {
  readonly blockSideMm: number;
  readonly blockCount: number;
  /** From a watering at seven in the morning until the mean block is at the refill point. */
  readonly hoursToRefill: EstimateRange;
  /** Until a tenth of the blocks are. */
  readonly hoursToRefillDriestTenth: EstimateRange;
  readonly doseMlPerBlock: number;
  readonly doseMlPerTray: number;
  readonly lossMlPerBlockPerDay: number;
  readonly wateringsPerDay: { readonly p10: number; readonly p50: number; readonly p90: number };
}

export const ESTIMATE_HORIZON_H = 30 * HOURS_PER_DAY;
/** The grower's first round (common practice). */
const WATERED_AT_H = 7;
const NOON_H = 12;
const STEPS_PER_HOUR = 4;
const MJ_PER_H_TO_W = 1e6 / S_PER_HOUR;
const MEMBERS = 500;
/** A grower who lets less than this go by is not waiting for a refill point, m³/m³. */
const LEAST_AVAILABLE = 0.06;

/** Radical inverse of `index` in `base` (Halton 1960): evenly spread numbers between 0 and 1, the same every time. */
function halton(index: number, base: number): number {
  let result = 0;
  let share = 1;
  for (let i = index; i > 0; i = Math.floor(i / base)) {
    share /= base;
    result += share * (i % base);
  }
  return result;
}

/** Mean sun between two clock hours, W/m²: half a sine over the day's length, its area the day's sun, integrated exactly. */
function solarWPerM2(climate: EstimateClimate, fromH: number, toH: number): number {
  const { dayLengthH, solarMJPerM2Day } = climate;
  const shareBy = (clockH: number): number => {
    const sinceSunriseH = clockH - (NOON_H - dayLengthH / 2);
    const share = Math.min(1, Math.max(0, sinceSunriseH / dayLengthH));
    return (1 - Math.cos(Math.PI * share)) / 2;
  };
  return (solarMJPerM2Day * MJ_PER_H_TO_W * (shareBy(toH) - shareBy(fromH))) / (toH - fromH);
}

/** Potential drying of one tray in each step of a day from the watering on, m³/m³. */
interface DayOfPotential {
  /** By dry air and bottom heat, and by sun, as the physics has them. */
  readonly air: Float64Array;
  readonly sun: Float64Array;
  /** All the energy of the sun turned to vapour. */
  readonly mostSun: Float64Array;
}

function dayOfPotential(climate: EstimateClimate, tray: EstimateTray): DayOfPotential {
  const stand = {
    exchange: trayExchange(tray, climate.airSpeedMPerS),
    cover: tray.cover,
    leafShare: leafShare(tray.daysSinceGermination),
  };
  const vapourKPa = vapourPressureKPa(climate.temperatureC, climate.relativeHumidityPct);
  const nightC = climate.nightTemperatureC ?? climate.temperatureC;
  const steps = (): Float64Array => new Float64Array(HOURS_PER_DAY * STEPS_PER_HOUR);
  const day: DayOfPotential = { air: steps(), sun: steps(), mostSun: steps() };
  for (let i = 0; i < day.air.length; i++) {
    const clockH = (WATERED_AT_H + (i + 0.5) / STEPS_PER_HOUR) % HOURS_PER_DAY;
    const half = 0.5 / STEPS_PER_HOUR;
    const sun = solarWPerM2(climate, clockH - half, clockH + half);
    const isDay = Math.abs(clockH - NOON_H) < climate.dayLengthH / 2;
    const airC = isDay ? climate.temperatureC : nightC;
    const terms = dryingTerms(stand, airC, sun);
    const deficitKPa = Math.max(terms.leastDeficitKPa, saturationVapourPressureKPa(airC) - vapourKPa);
    const heat = terms.perBottomHeatWPerM2 * (climate.bottomHeatWPerM2 ?? 0);
    day.air[i] = (terms.perKPa * deficitKPa + heat) / STEPS_PER_HOUR;
    day.sun[i] = (terms.perSunWPerM2 * sun) / STEPS_PER_HOUR;
    day.mostSun[i] = (terms.mostPerSunWPerM2 * sun) / STEPS_PER_HOUR;
  }
  return day;
}

/** Potential drying in step `i` of a tray that dries `rate` times as fast as the physics says, within the sun's energy. */
function potentialInStep(day: DayOfPotential, rate: number, i: number): number {
  return rate * (day.air[i] as number) + Math.min(rate * (day.sun[i] as number), day.mostSun[i] as number);
}

/** Of a whole day. */
function potentialInDay(day: DayOfPotential, rate: number): number {
  let sum = 0;
  for (let i = 0; i < day.air.length; i++) sum += potentialInStep(day, rate, i);
  return sum;
}

/** Hours until this much potential drying has gone by; Infinity beyond the horizon. */
function hoursUntil(potential: number, day: DayOfPotential, rate: number): number {
  const dayTotal = potentialInDay(day, rate);
  const days = Math.floor(potential / dayTotal);
  if (!(days * HOURS_PER_DAY <= ESTIMATE_HORIZON_H)) return Number.POSITIVE_INFINITY;
  let left = potential - days * dayTotal;
  for (let i = 0; i < day.air.length; i++) {
    const step = potentialInStep(day, rate, i);
    if (left <= step) return days * HOURS_PER_DAY + (i + left / step) / STEPS_PER_HOUR;
    left -= step;
  }
  return (days + 1) * HOURS_PER_DAY;
}

function quantile(values: Float64Array, probability: number): number {
  return values[Math.round(probability * (values.length - 1))] as number;
}

function range(hours: Float64Array): EstimateRange {
  const at = (probability: number): number | undefined => {
    const value = quantile(hours.sort(), probability);
    return value <= ESTIMATE_HORIZON_H ? value : undefined;
  };
  return { p10: at(TENTHS.p10), p50: at(TENTHS.p50), p90: at(TENTHS.p90) };
}

/** A value that is known needs no prior. */
function known(value: number | undefined, prior: Prior): Prior {
  return value === undefined ? prior : { mean: value, sd: 0 };
}

/**
 * What the physics and the priors say of one block size, without any probe: an ensemble over how farms, mixes and
 * benches differ. Block side 10 to 300 mm, temperature −10 to 60 °C, humidity 1 to 100 %.
 */
export function estimateBlock(climate: EstimateClimate, tray: EstimateTray): BlockEstimate {
  const priors = blockPriors(tray.blockSideMm);
  const capacity = known(tray.containerCapacityM3PerM3, priors.containerCapacityM3PerM3);
  const refill = known(tray.refillPointM3PerM3, priors.refillPointM3PerM3);
  const day = dayOfPotential(climate, tray);
  const driestRatio = driestTenthRateRatio(tray, climate.airSpeedMPerS);
  const mean = new Float64Array(MEMBERS);
  const driest = new Float64Array(MEMBERS);
  const perDay = new Float64Array(MEMBERS);
  for (let i = 0; i < MEMBERS; i++) {
    const z = (base: number): number => normalQuantile(halton(i + 1, base));
    const available = Math.max(
      LEAST_AVAILABLE,
      capacity.mean + capacity.sd * z(2) - (refill.mean + refill.sd * z(3)),
    );
    const rate = Math.exp(priors.logRate.sd * z(5) + COVER_LOG_SD[tray.cover] * z(7));
    mean[i] = hoursUntil(available, day, rate);
    driest[i] = hoursUntil(available, day, rate * driestRatio);
    perDay[i] = potentialInDay(day, rate) / available;
  }
  perDay.sort();
  const drawdown = Math.max(LEAST_AVAILABLE, capacity.mean - refill.mean);
  return {
    blockSideMm: tray.blockSideMm,
    blockCount: tray.blockCount,
    hoursToRefill: range(mean),
    hoursToRefillDriestTenth: range(driest),
    doseMlPerBlock: drawdown * blockVolumeMl(tray.blockSideMm),
    doseMlPerTray: drawdown * trayVolumeMl(tray),
    lossMlPerBlockPerDay: potentialInDay(day, 1) * blockVolumeMl(tray.blockSideMm),
    wateringsPerDay: {
      p10: quantile(perDay, TENTHS.p10),
      p50: quantile(perDay, TENTHS.p50),
      p90: quantile(perDay, TENTHS.p90),
    },
  };
}
