import { HOURS_PER_DAY, MS_PER_HOUR } from '../../../shared/base/time-units.js';
import { saturationVapourPressureKPa } from '../physics/air/psychrometrics.js';
import {
  type BenchClimate,
  type ClimateKind,
  type ClimateStep,
  type OwnClimate,
  REMEMBERED_DAYS,
  recalled,
} from './bench-climate.js';
import { type Place, sunHeight, usualSunWPerM2 } from './sun.js';

/** Yesterday counts fully, each day before it by this factor less. */
const DAY_DECAY = 0.75;
/** Days' worth of weight that the prior has in a profile. */
const PRIOR_DAYS = 0.25;
/** Usual propagation climate (18 to 24 °C and about two thirds humidity: common practice). */
const NIGHT_C = 17;
const SUN_WARMING_C = 8;
const USUAL_VAPOUR_KPA = 1.3;
const LEAST_VPD_KPA = 0.02;

/** Climate of a bench of which nothing is known: by the sun's height alone. */
export function priorClimate(place: Place, atMs: number): ClimateStep {
  const temperatureC = NIGHT_C + SUN_WARMING_C * sunHeight(place, atMs - 2 * MS_PER_HOUR);
  return {
    temperatureC,
    vpdKPa: vpdWithoutHumidity(temperatureC, undefined),
    solarWPerM2: usualSunWPerM2(place, atMs),
  };
}

/**
 * VPD when only temperature is known: the air is taken to have been nearly saturated at the coldest hour of the last
 * day, the usual night of a closed house. Kilopascals.
 */
export function vpdWithoutHumidity(temperatureC: number, coldestC: number | undefined): number {
  const saturated = saturationVapourPressureKPa(temperatureC);
  const vapour = coldestC === undefined ? USUAL_VAPOUR_KPA : 0.9 * saturationVapourPressureKPa(coldestC);
  return Math.max(LEAST_VPD_KPA, saturated - vapour);
}

/** Coldest remembered hour of the day before `absoluteHour`, °C. */
export function coldestOfDay(climate: BenchClimate, absoluteHour: number): number | undefined {
  let coldest: number | undefined;
  for (let back = 0; back < HOURS_PER_DAY; back++) {
    const value = recalled(climate.memory.temperatureC, absoluteHour - back);
    if (value !== undefined && (coldest === undefined || value < coldest)) coldest = value;
  }
  return coldest;
}

/**
 * What this hour is usually like on this bench: mean of the same hour of the remembered days before `beforeHour`, the
 * later the heavier, with a little of `prior`. VPD in logs, for it is the ratio that lasts.
 */
export function usualValue(
  climate: BenchClimate,
  kind: ClimateKind,
  absoluteHour: number,
  beforeHour: number,
  prior: number,
): number {
  const inLogs = kind === 'vpdKPa';
  const memory = climate.memory[kind];
  let sum = PRIOR_DAYS * (inLogs ? Math.log(Math.max(LEAST_VPD_KPA, prior)) : prior);
  let weights = PRIOR_DAYS;
  const firstBack = Math.max(1, Math.ceil((absoluteHour - beforeHour + 1) / HOURS_PER_DAY));
  let weight = 1;
  for (let day = firstBack; day < firstBack + REMEMBERED_DAYS; day++) {
    const value = recalled(memory, absoluteHour - day * HOURS_PER_DAY);
    if (value !== undefined) {
      sum += weight * (inLogs ? Math.log(Math.max(LEAST_VPD_KPA, value)) : value);
      weights += weight;
    }
    weight *= DAY_DECAY;
  }
  const mean = sum / weights;
  return inLogs ? Math.exp(mean) : mean;
}

/** Climate of a step: own probes first, then the usual of the hour, other benches, and last the season's prior. */
export function completeClimate(
  climate: BenchClimate,
  own: OwnClimate,
  elsewhere: OwnClimate,
  place: Place,
  atMs: number,
): ClimateStep {
  const hour = Math.floor(atMs / MS_PER_HOUR);
  const prior = priorClimate(place, atMs);
  const usual = (kind: ClimateKind, fallback: number): number =>
    usualValue(climate, kind, hour, hour, fallback);
  const temperatureC =
    own.temperatureC ??
    (climate.has.temperature
      ? usual('temperatureC', elsewhere.temperatureC ?? prior.temperatureC)
      : (elsewhere.temperatureC ?? prior.temperatureC));
  const vpdKPa =
    own.vpdKPa ??
    (own.temperatureC !== undefined && !climate.has.humidity
      ? vpdWithoutHumidity(own.temperatureC, coldestOfDay(climate, hour))
      : climate.has.temperature && climate.has.humidity
        ? usual('vpdKPa', elsewhere.vpdKPa ?? prior.vpdKPa)
        : (elsewhere.vpdKPa ?? vpdWithoutHumidity(temperatureC, coldestOfDay(climate, hour))));
  const solarWPerM2 =
    own.solarWPerM2 ??
    (climate.has.light
      ? usual('solarWPerM2', prior.solarWPerM2)
      : (elsewhere.solarWPerM2 ?? prior.solarWPerM2));
  return { temperatureC, vpdKPa: Math.max(LEAST_VPD_KPA, vpdKPa), solarWPerM2: Math.max(0, solarWPerM2) };
}
