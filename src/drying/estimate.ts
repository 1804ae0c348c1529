import type { Cover } from '../../shared/config/trays.js';
import { normalQuantile } from './normal.js';
import { blockPriors, type Prior } from './physics/block-priors.js';
import { COVER_FACTOR, COVER_LOG_SD } from './physics/cover.js';
import { driestTenthRateRatio } from './physics/driest-tenth.js';
import { growthFactor } from './physics/growth.js';
import { saturationVapourPressureKPa, vapourPressureKPa } from './physics/psychrometrics.js';
import { potentialDryingPerH, trayExchange } from './physics/tray-exchange.js';
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

export const ESTIMATE_HORIZON_H = 30 * 24;
/** The grower's first round (common practice). */
const WATERED_AT_H = 7;
const NOON_H = 12;
const HOURS_PER_DAY = 24;
const STEPS_PER_HOUR = 4;
const MJ_PER_H_TO_W = 1e6 / 3600;
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

/** Sun at a clock hour, W/m²: half a sine over the day's length, its area the day's sun. */
function solarWPerM2(climate: EstimateClimate, clockH: number): number {
  const sinceSunriseH = clockH - (NOON_H - climate.dayLengthH / 2);
  if (sinceSunriseH <= 0 || sinceSunriseH >= climate.dayLengthH) return 0;
  const peakW = (climate.solarMJPerM2Day * MJ_PER_H_TO_W * Math.PI) / (2 * climate.dayLengthH);
  return peakW * Math.sin((Math.PI * sinceSunriseH) / climate.dayLengthH);
}

/** Potential drying of an open, bare tray in each step of a day from the watering on, m³/m³. */
function dayOfPotential(climate: EstimateClimate, tray: TrayShape): Float64Array {
  const exchange = trayExchange(tray, climate.airSpeedMPerS);
  const vapourKPa = vapourPressureKPa(climate.temperatureC, climate.relativeHumidityPct);
  const nightC = climate.nightTemperatureC ?? climate.temperatureC;
  const steps = new Float64Array(HOURS_PER_DAY * STEPS_PER_HOUR);
  for (let i = 0; i < steps.length; i++) {
    const clockH = (WATERED_AT_H + (i + 0.5) / STEPS_PER_HOUR) % HOURS_PER_DAY;
    const sun = solarWPerM2(climate, clockH);
    const isDay = Math.abs(clockH - NOON_H) < climate.dayLengthH / 2;
    const airC = isDay ? climate.temperatureC : nightC;
    const deficitKPa = Math.max(0, saturationVapourPressureKPa(airC) - vapourKPa);
    steps[i] = potentialDryingPerH(exchange, airC, deficitKPa, sun) / STEPS_PER_HOUR;
  }
  return steps;
}

/** Hours until this much potential drying has gone by; Infinity beyond the horizon. */
function hoursUntil(potential: number, day: Float64Array, dayTotal: number): number {
  const days = Math.floor(potential / dayTotal);
  if (!(days * HOURS_PER_DAY <= ESTIMATE_HORIZON_H)) return Number.POSITIVE_INFINITY;
  let left = potential - days * dayTotal;
  for (let i = 0; i < day.length; i++) {
    const step = day[i] as number;
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
  return { p10: at(0.1), p50: at(0.5), p90: at(0.9) };
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
  const dayTotal = day.reduce((sum, step) => sum + step, 0);
  const drive = COVER_FACTOR[tray.cover] * growthFactor(tray.daysSinceGermination);
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
    const rate = drive * Math.exp(priors.logRate.sd * z(5) + COVER_LOG_SD[tray.cover] * z(7));
    mean[i] = hoursUntil(available / rate, day, dayTotal);
    driest[i] = hoursUntil(available / (rate * driestRatio), day, dayTotal);
    perDay[i] = (rate * dayTotal) / available;
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
    lossMlPerBlockPerDay: drive * dayTotal * blockVolumeMl(tray.blockSideMm),
    wateringsPerDay: { p10: quantile(perDay, 0.1), p50: quantile(perDay, 0.5), p90: quantile(perDay, 0.9) },
  };
}
