import { MS_PER_DAY, MS_PER_HOUR, MS_PER_MIN } from '../../../shared/base/time-units.js';
import {
  type ClimateStep,
  closeClimateStep,
  medianOf,
  type OwnClimate,
  remember,
} from '../climate/bench-climate.js';
import { scoreHour } from '../climate/outlook.js';
import { completeClimate } from '../climate/profile.js';
import { sunLean } from '../climate/sun.js';
import { followWander } from '../filter/belief.js';
import { type BenchState, benchOf, bottomHeatOf, type Farm } from '../filter/farm-state.js';
import { LINK_COUNT } from '../filter/layout.js';
import { wanderOf } from '../filter/measurement.js';
import { type Drive, processStep } from '../filter/process-step.js';
import { settleTray, type TrayState } from '../filter/tray-state.js';
import { keepForecastsToScore, scoreStoredForecasts } from '../forecast/forecast-scores.js';
import { standOf } from '../forecast/tray-stand.js';
import { dryingTerms } from '../physics/drying-law.js';
import { bookStep } from '../pours/pour-book.js';
import { unrestOf } from '../probes/unrest.js';
import { hearExperts } from './experts-hour.js';
import { closeProbeStep } from './probe-step.js';

/** Readings are gathered into steps of this length, ms. */
export const STEP_MS = 10 * MS_PER_MIN;
const LONG_STEP_MS = MS_PER_HOUR;
/** Silence longer than this is run through in long steps, ms. */
const LONG_SILENCE_MS = 30 * MS_PER_HOUR;
/** Nothing is believed of a farm that nobody looked at for longer than this; the state would only run dry, ms. */
const LONGEST_SILENCE_MS = 45 * MS_PER_DAY;

/**
 * Carries every tray to where the shared components stand. Holds between the calls of a model: what one tray taught is in all
 * that is read of the others, whether anybody asks or not.
 */
export function settle(farm: Farm): void {
  for (const tray of farm.memory.trays.values()) settleTray(tray, farm.memory.shared);
}

/** Runs all steps that end at or before this instant. */
export function runTo(farm: Farm, atMs: number): void {
  const { memory } = farm;
  if (memory.steppedToMs === undefined) memory.steppedToMs = Math.floor(atMs / STEP_MS) * STEP_MS;
  if (memory.nowMs === undefined || atMs > memory.nowMs) memory.nowMs = atMs;
  if (atMs - memory.steppedToMs > LONGEST_SILENCE_MS)
    memory.steppedToMs = Math.floor((atMs - LONGEST_SILENCE_MS) / MS_PER_HOUR) * MS_PER_HOUR;
  while (memory.steppedToMs + STEP_MS <= atMs) {
    const long = atMs - memory.steppedToMs > LONG_SILENCE_MS && memory.steppedToMs % LONG_STEP_MS === 0;
    const length = long ? LONG_STEP_MS : STEP_MS;
    step(farm, memory.steppedToMs + length, length / MS_PER_HOUR);
    memory.steppedToMs += length;
  }
}

/** Time in which skin and core of a block draw level, h. */
const SKIN_MEMORY_H = 2;

interface BenchWeather {
  readonly own: OwnClimate;
  readonly weather: ClimateStep;
  readonly lean: number;
}

function step(farm: Farm, endMs: number, hours: number): void {
  const { memory, frame } = farm;
  const weatherOf = stepWeather(farm, endMs);
  const wander = (): void => {
    const wandered = memory.shared.wander(hours);
    for (const tray of memory.trays.values())
      for (const belief of tray.beliefs) followWander(belief, tray.links, memory.shared, wandered);
  };
  for (const tray of memory.trays.values()) {
    const there = weatherOf.get(tray.benchId);
    if (there === undefined) continue;
    const drive = driveOf(farm, tray, there, endMs);
    const wanders = tray.probes.map((probe) => wanderOf(probe, tray.volumeMl));
    let dried = 0;
    for (const belief of tray.beliefs)
      dried += belief.weight * processStep(belief, LINK_COUNT, drive, wanders, hours);
    const fresh = 1 - Math.exp(-hours / SKIN_MEMORY_H);
    if (tray.experts !== undefined) tray.experts.course.driedByModel += dried;
    tray.recentDryingPerH += fresh * (dried / hours - tray.recentDryingPerH);
  }
  wander();
  for (const tray of memory.trays.values()) {
    const there = weatherOf.get(tray.benchId);
    if (there === undefined) continue;
    settleTray(tray, memory.shared);
    for (const probe of tray.probes) {
      const raw = medianOf(probe.bin);
      probe.bin.length = 0;
      closeProbeStep(farm, tray, probe, raw, endMs, there.weather.temperatureC);
    }
    bookStep(tray, endMs, there.own, there.weather);
    scoreStoredForecasts(farm, tray, endMs);
  }
  settle(farm);
  if (endMs % MS_PER_HOUR >= hours * MS_PER_HOUR) return;
  for (const bench of memory.benches.values())
    scoreHour(bench.climate, bench.spread, frame.place, Math.floor(endMs / MS_PER_HOUR) - 1);
  hearExperts(farm, endMs);
  keepForecastsToScore(farm, endMs);
}

function driveOf(farm: Farm, tray: TrayState, there: BenchWeather, endMs: number): Drive {
  const { temperatureC, vpdKPa, solarWPerM2 } = there.weather;
  const terms = dryingTerms(standOf(tray, endMs), temperatureC, solarWPerM2);
  const dries = endMs <= tray.soakingUntilMs ? 0 : 1;
  const bottomHeatWPerM2 = bottomHeatOf(farm, tray.benchId);
  return {
    airPerH:
      dries *
      (terms.perKPa * Math.max(terms.leastDeficitKPa, vpdKPa) + terms.perBottomHeatWPerM2 * bottomHeatWPerM2),
    sunPerH: dries * terms.perSunWPerM2 * solarWPerM2,
    sunLean: there.lean,
    logSide: tray.logSide,
    covered: tray.cover !== 'none',
    unrest: unrestOf(tray),
  };
}

function stepWeather(farm: Farm, endMs: number): Map<string, BenchWeather> {
  const { memory, frame } = farm;
  const owns = new Map<BenchState, OwnClimate>();
  for (const bench of memory.benches.values()) owns.set(bench, closeClimateStep(bench.climate, endMs));
  const elsewhere = meanClimate([...owns.values()]);
  const weatherOf = new Map<string, BenchWeather>();
  const middleMs = endMs - STEP_MS / 2;
  const hour = Math.floor((endMs - 1) / MS_PER_HOUR);
  for (const [bench, own] of owns) {
    const weather = completeClimate(bench.climate, own, elsewhere, frame.place, middleMs);
    weatherOf.set(bench.id, { own, weather, lean: sunLean(frame.place, middleMs) });
    if (own.temperatureC !== undefined) remember(bench.climate.memory.temperatureC, hour, own.temperatureC);
    if (own.vpdKPa !== undefined || own.temperatureC !== undefined)
      remember(bench.climate.memory.vpdKPa, hour, weather.vpdKPa);
    if (own.solarWPerM2 !== undefined) remember(bench.climate.memory.solarWPerM2, hour, own.solarWPerM2);
  }
  for (const tray of memory.trays.values()) benchOf(farm, tray.benchId);
  return weatherOf;
}

function meanClimate(all: readonly OwnClimate[]): OwnClimate {
  const mean = (pick: (own: OwnClimate) => number | undefined): number | undefined => {
    const values = all.map(pick).filter((value) => value !== undefined);
    return values.length === 0 ? undefined : values.reduce((sum, value) => sum + value, 0) / values.length;
  };
  return {
    temperatureC: mean((own) => own.temperatureC),
    vpdKPa: mean((own) => own.vpdKPa),
    solarWPerM2: mean((own) => own.solarWPerM2),
  };
}
