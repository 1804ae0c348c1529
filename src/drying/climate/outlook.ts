import { HOURS_PER_DAY, MS_PER_HOUR } from '../../../shared/base/time-units.js';
import type { ClimateOutlook } from '../model/farm-model.js';
import { type BenchClimate, type ClimateKind, type ClimateStep, recalled } from './bench-climate.js';
import { HORIZON_H, type MemberDraws, PATH_COUNT } from './member-draws.js';
import { priorClimate, usualValue } from './profile.js';
import { type Place, sunLean } from './sun.js';

/** The present departure from the usual dies away by this time constant, hours: most of a day. */
const ANOMALY_MEMORY_H = 18;
/** Hours back that the present departure is taken from. */
const DEPARTURE_HOURS = 6;
/** Weight of "as usual" in it, in sums of kPa and of W/m²: nights say little. */
const USUAL_WEIGHT = { vpdKPa: 1, solarWPerM2: 300 } as const;
const MOST_LOG_ANOMALY = 1;
/** Weight of a new hour in the running spread, and what it starts from. */
const SPREAD_LEARNING = 1 / 72;
export const FIRST_SPREAD = { airLog: 0.35, sunShare: 0.45 } as const;
/** VPD below which ratios mean little, and from which an hour counts fully, kPa. */
const DAMP_AIR_KPA = 0.1;
const DRY_AIR_KPA = 0.6;
/** Hours darker than this say nothing of the sky, W/m². */
const DAYLIGHT_WPERM2 = 30;

/** Running spread of a bench's hours around what was usual. */
export interface OutlookSpread {
  airLogVar: number;
  sunShareVar: number;
}

export function newOutlookSpread(): OutlookSpread {
  return { airLogVar: FIRST_SPREAD.airLog ** 2, sunShareVar: FIRST_SPREAD.sunShare ** 2 };
}

/** A member's weather is worked out in pieces of this many hours: most trays are dry long before the horizon. */
const PIECE_H = 12;

/**
 * Weather of the next 120 h on one bench: one path of dry air and one of sun per member. Values of a member stand only as far as
 * `reach` says.
 */
export interface BenchOutlook {
  readonly benchId: string;
  readonly atMs: number;
  readonly temperatureC: Float64Array;
  /** Member-major, PATH_COUNT × HORIZON_H, kPa. */
  readonly vpdKPa: Float64Array;
  /** Member-major, PATH_COUNT × HORIZON_H, W/m². */
  readonly solarWPerM2: Float64Array;
  /** Has this member's weather stand for the hour `lead` too; returns for how many hours it stands. */
  readonly reach: (member: number, lead: number) => number;
  /** True: the weather was handed in and has no spread. */
  readonly given: boolean;
}

/** Learns the spread from an hour that has just ended. */
export function scoreHour(
  climate: BenchClimate,
  spread: OutlookSpread,
  place: Place,
  endedHour: number,
): void {
  const prior = priorClimate(place, (endedHour + 0.5) * MS_PER_HOUR);
  if (recalled(climate.memory.vpdKPa, endedHour - HOURS_PER_DAY) !== undefined) {
    const seen = recalled(climate.memory.vpdKPa, endedHour);
    if (seen !== undefined) {
      const usual = usualValue(climate, 'vpdKPa', endedHour, endedHour, prior.vpdKPa);
      const miss = Math.log((seen + DAMP_AIR_KPA) / (usual + DAMP_AIR_KPA));
      const weight = Math.min(1, usual / DRY_AIR_KPA);
      spread.airLogVar += SPREAD_LEARNING * weight * (Math.min(1, miss * miss) - spread.airLogVar);
    }
    const sun = recalled(climate.memory.solarWPerM2, endedHour);
    const usualSun = usualValue(climate, 'solarWPerM2', endedHour, endedHour, prior.solarWPerM2);
    if (climate.has.light && sun !== undefined && usualSun > DAYLIGHT_WPERM2) {
      const miss = sun / usualSun - 1;
      spread.sunShareVar += SPREAD_LEARNING * (Math.min(1, miss * miss) - spread.sunShareVar);
    }
  }
}

/** What the farm's state has learned of a bench's sun: see the shared components of that name. */
export interface LearnedSky {
  readonly cloud: number;
  readonly cloudMemoryH: number;
  readonly lean: number;
}

/** How the last hours depart from the usual: log ratio of VPD, share of sun, kelvins. */
interface Departure {
  readonly airLog: number;
  readonly sunShare: number;
  readonly temperatureC: number;
}

function presentDeparture(climate: BenchClimate, place: Place, nowHour: number): Departure {
  const air = { now: USUAL_WEIGHT.vpdKPa, usual: USUAL_WEIGHT.vpdKPa };
  const sun = { now: USUAL_WEIGHT.solarWPerM2, usual: USUAL_WEIGHT.solarWPerM2 };
  let warmth = 0;
  let warmHours = 1;
  for (let back = 0; back < DEPARTURE_HOURS; back++) {
    const hour = nowHour - back;
    const prior = priorClimate(place, (hour + 0.5) * MS_PER_HOUR);
    const usual = (kind: ClimateKind): number =>
      usualValue(climate, kind, hour, nowHour - DEPARTURE_HOURS, prior[kind]);
    const vpd = recalled(climate.memory.vpdKPa, hour);
    if (vpd !== undefined) {
      air.now += vpd;
      air.usual += usual('vpdKPa');
    }
    const temperature = recalled(climate.memory.temperatureC, hour);
    if (temperature !== undefined) {
      warmth += temperature - usual('temperatureC');
      warmHours += 1;
    }
    const light = recalled(climate.memory.solarWPerM2, hour);
    if (climate.has.light && light !== undefined) {
      sun.now += light;
      sun.usual += usual('solarWPerM2');
    }
  }
  const clamp = (value: number): number => Math.max(-MOST_LOG_ANOMALY, Math.min(MOST_LOG_ANOMALY, value));
  return {
    airLog: clamp(Math.log(air.now / air.usual)),
    sunShare: clamp(sun.now / sun.usual - 1),
    temperatureC: warmth / warmHours,
  };
}

/** Outlook from the bench's own recent days by hour, the present departure, and the learned spread times `widening`. */
export function outlookOf(
  climate: BenchClimate,
  spread: OutlookSpread,
  draws: MemberDraws,
  place: Place,
  atMs: number,
  sky: LearnedSky,
  widening: number,
): BenchOutlook {
  const nowHour = Math.floor(atMs / MS_PER_HOUR) - 1;
  const departure = presentDeparture(climate, place, nowHour);
  const temperatureC = new Float64Array(HORIZON_H);
  const vpdKPa = new Float64Array(PATH_COUNT * HORIZON_H);
  const solarWPerM2 = new Float64Array(PATH_COUNT * HORIZON_H);
  const logVpd = new Float64Array(HORIZON_H);
  const sun = new Float64Array(HORIZON_H);
  const sunShare = new Float64Array(HORIZON_H);
  const airSd = Math.sqrt(spread.airLogVar) * widening;
  const sunSd = (climate.has.light ? Math.sqrt(spread.sunShareVar) : FIRST_SPREAD.sunShare) * widening;
  for (let lead = 0; lead < HORIZON_H; lead++) {
    const middleMs = atMs + (lead + 0.5) * MS_PER_HOUR;
    const hour = Math.floor(middleMs / MS_PER_HOUR);
    const prior = priorClimate(place, middleMs);
    const lasting = Math.exp(-(lead + 0.5) / ANOMALY_MEMORY_H);
    temperatureC[lead] =
      usualValue(climate, 'temperatureC', hour, nowHour, prior.temperatureC) +
      departure.temperatureC * lasting;
    logVpd[lead] =
      Math.log(usualValue(climate, 'vpdKPa', hour, nowHour, prior.vpdKPa)) + departure.airLog * lasting;
    sun[lead] = climate.has.light
      ? usualValue(climate, 'solarWPerM2', hour, nowHour, prior.solarWPerM2)
      : prior.solarWPerM2;
    sunShare[lead] =
      1 +
      departure.sunShare * lasting +
      sky.cloud * Math.exp(-(lead + 0.5) / sky.cloudMemoryH) +
      sky.lean * sunLean(place, middleMs);
  }
  const standsH = new Uint8Array(PATH_COUNT);
  const reach = (member: number, wanted: number): number => {
    const toH = Math.min(HORIZON_H, (Math.floor(wanted / PIECE_H) + 1) * PIECE_H);
    for (let lead = standsH[member] as number; lead < toH; lead++) {
      const at = member * HORIZON_H + lead;
      vpdKPa[at] = Math.exp((logVpd[lead] as number) + airSd * (draws.air[at] ?? 0));
      const share = (sunShare[lead] as number) + sunSd * (draws.sun[at] ?? 0);
      solarWPerM2[at] = (sun[lead] as number) * Math.max(0, share);
    }
    standsH[member] = Math.max(standsH[member] as number, toH);
    return standsH[member] as number;
  };
  return { benchId: climate.benchId, atMs, temperatureC, vpdKPa, solarWPerM2, reach, given: false };
}

/** Outlook that was handed in: every member the same. */
export function givenOutlook(benchId: string, atMs: number, outlook: ClimateOutlook): BenchOutlook {
  const temperatureC = new Float64Array(HORIZON_H);
  const vpdKPa = new Float64Array(PATH_COUNT * HORIZON_H);
  const solarWPerM2 = new Float64Array(PATH_COUNT * HORIZON_H);
  for (let lead = 0; lead < HORIZON_H; lead++) {
    const step: ClimateStep = outlook(benchId, atMs + lead * MS_PER_HOUR);
    temperatureC[lead] = step.temperatureC;
    for (let m = 0; m < PATH_COUNT; m++) {
      vpdKPa[m * HORIZON_H + lead] = step.vpdKPa;
      solarWPerM2[m * HORIZON_H + lead] = step.solarWPerM2;
    }
  }
  return { benchId, atMs, temperatureC, vpdKPa, solarWPerM2, reach: () => HORIZON_H, given: true };
}
