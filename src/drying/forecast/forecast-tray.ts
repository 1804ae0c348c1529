import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import type { Cover } from '../../../shared/config/trays.js';
import { HORIZON_H, MEMBER_COUNT, MIDDLE_MEMBER } from '../climate/member-draws.js';
import { type BenchOutlook, givenOutlook, outlookOf } from '../climate/outlook.js';
import { weatherWidening } from '../climate/spread-score.js';
import { usualSunWPerM2 } from '../climate/sun.js';
import type { ModelCourse } from '../experts/expert-falls.js';
import { type BenchState, benchOf, bottomHeatOf, type Farm } from '../filter/farm-state.js';
import { benchCloud, benchLean, CLOUD_MEMORY_H, LOCAL } from '../filter/layout.js';
import { isHandScale } from '../filter/probe-state.js';
import { meanLocal, type TrayState } from '../filter/tray-state.js';
import type { DryHours, ForecastBasis, TrayForecast } from '../model/tray-forecast.js';
import { dryBy, dryingTerms, fallingStage } from '../physics/drying-law.js';
import { heardExperts } from './heard-experts.js';
import { type SampledTray, sampleTray } from './sample-belief.js';
import { ensembleHours, type HourlyDrive, middlePotential } from './tray-ensemble.js';
import { scaleOf } from './tray-scale.js';
import { standOf } from './tray-stand.js';

export function outlookFor(farm: Farm, bench: BenchState, atMs: number): BenchOutlook {
  const { frame, memory } = farm;
  if (frame.spec.outlook !== undefined) return givenOutlook(bench.id, atMs, frame.spec.outlook);
  const { shared } = memory;
  const hasLight = bench.climate.has.light;
  return outlookOf(
    bench.climate,
    bench.spread,
    frame.draws,
    frame.place,
    atMs,
    {
      cloud: shared.meanOf(shared.ensure(benchCloud(bench.id, hasLight))),
      cloudMemoryH: CLOUD_MEMORY_H,
      lean: shared.meanOf(shared.ensure(benchLean(bench.id, hasLight))),
    },
    weatherWidening(memory.score),
  );
}

/** Changes nothing of what is believed or kept: whoever asks, and however often, hears the same. */
export function forecastTray(farm: Farm, tray: TrayState, outlook: BenchOutlook, atMs: number): TrayForecast {
  return forecastAhead(farm, tray, lookAhead(farm, tray, outlook, atMs), outlook, atMs);
}

/** The forecast that comes of what is believed and what drives it. */
export function forecastAhead(
  farm: Farm,
  tray: TrayState,
  ahead: TrayAhead,
  outlook: BenchOutlook,
  atMs: number,
): TrayForecast {
  const { sampled, drive } = ahead;
  const hours = ensembleHours(sampled, drive, outlook, tray.driestRatio);
  const members = sampled.water.subarray(0, MEMBER_COUNT);
  const water = mean(members);
  const course = modelCourse(tray, ahead, outlook);
  const byModel = {
    waterContentM3PerM3: Math.min(1, Math.max(0, water)),
    waterContentSdM3PerM3: standardDeviation(members, water),
    meanBlockHours: hours.meanBlock.sort(),
    driestTenthHours: hours.driestTenth.sort(),
  };
  const heard = heardExperts(tray, atMs, course, byModel);
  return {
    trayId: tray.id,
    atMs,
    containerCapacityM3PerM3: meanLocal(tray, LOCAL.capacity),
    refillPointM3PerM3: meanLocal(tray, LOCAL.refill),
    ...heard,
    fallByHour: fallOf(heard.waterContentM3PerM3, course),
    ...(tray.cover === 'none' ? {} : { ifUncovered: hoursUncovered(farm, tray, outlook, atMs) }),
    basis: basisOf(farm, tray, atMs),
  };
}

/** Fall from `water` after 0, 1, 2 … hours on the model's course, m³/m³. */
function fallOf(water: number, { potential, stage }: ModelCourse): Float64Array {
  const falls = new Float64Array(potential.length + 1);
  let sum = 0;
  potential.forEach((inHour, lead) => {
    sum += inHour;
    falls[lead + 1] = water - dryBy(water, sum, stage);
  });
  return falls;
}

function hoursUncovered(farm: Farm, tray: TrayState, outlook: BenchOutlook, atMs: number): DryHours {
  const { sampled, drive } = lookAhead(farm, tray, outlook, atMs, 'none');
  const hours = ensembleHours(sampled, drive, outlook, tray.driestRatio);
  return { meanBlockHours: hours.meanBlock.sort(), driestTenthHours: hours.driestTenth.sort() };
}

/** What is believed of a tray member by member, and what drives it in the hours to come. */
export interface TrayAhead {
  readonly sampled: SampledTray;
  readonly drive: HourlyDrive;
}

export function lookAhead(
  farm: Farm,
  tray: TrayState,
  outlook: BenchOutlook,
  atMs: number,
  cover: Cover = tray.cover,
): TrayAhead {
  const { memory, frame } = farm;
  const sampled = sampleTray(
    tray.beliefs,
    tray.links,
    memory.shared,
    frame.draws,
    tray.logSide,
    cover !== 'none',
  );
  return { sampled, drive: hourlyDrive(farm, tray, outlook, atMs, cover) };
}

/** The block model's word on the hours to come, without its spread. */
export function modelCourse(
  tray: TrayState,
  { sampled, drive }: TrayAhead,
  outlook: BenchOutlook,
): ModelCourse {
  const scale = scaleOf(tray);
  return {
    potential: middlePotential(sampled, drive, outlook),
    stage: fallingStage(scale.refill, scale.refill + scale.span, sampled.kneeIndex[MIDDLE_MEMBER] as number),
    scale,
  };
}

function hourlyDrive(
  farm: Farm,
  tray: TrayState,
  outlook: BenchOutlook,
  atMs: number,
  cover: Cover,
): HourlyDrive {
  const drive: HourlyDrive = {
    airPerKPa: new Float64Array(HORIZON_H),
    leastDeficitKPa: new Float64Array(HORIZON_H),
    sunPerWPerM2: new Float64Array(HORIZON_H),
    bottomHeatPerH: new Float64Array(HORIZON_H),
  };
  const bottomHeatWPerM2 = bottomHeatOf(farm, tray.benchId);
  for (let lead = 0; lead < HORIZON_H; lead++) {
    const middleMs = atMs + (lead + 0.5) * MS_PER_HOUR;
    const sunWPerM2 = usualSunWPerM2(farm.frame.place, middleMs);
    const terms = dryingTerms(
      { ...standOf(tray, middleMs), cover },
      outlook.temperatureC[lead] as number,
      sunWPerM2,
    );
    drive.airPerKPa[lead] = terms.perKPa;
    drive.leastDeficitKPa[lead] = terms.leastDeficitKPa;
    drive.sunPerWPerM2[lead] = terms.perSunWPerM2;
    drive.bottomHeatPerH[lead] = terms.perBottomHeatWPerM2 * bottomHeatWPerM2;
  }
  return drive;
}

/** A probe silent for longer does not carry a forecast any more, h. */
const PROBE_CARRIES_H = 12;

function basisOf(farm: Farm, tray: TrayState, atMs: number): ForecastBasis {
  const live = (other: TrayState): boolean =>
    other.probes.some(
      (probe) =>
        !isHandScale(probe) &&
        probe.lastSeenAtMs !== undefined &&
        atMs - probe.lastSeenAtMs <= PROBE_CARRIES_H * MS_PER_HOUR,
    );
  if (live(tray)) return 'probe';
  const taught = [...farm.memory.trays.values()].some(
    (other) =>
      other.finishedDryDowns > 0 &&
      other.probes.length > 0 &&
      (other.benchId === tray.benchId || other.spec.blockSideMm === tray.spec.blockSideMm),
  );
  return taught ? 'shared' : 'prior';
}

function mean(values: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i] as number;
  return sum / values.length;
}

function standardDeviation(values: Float64Array, around: number): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += ((values[i] as number) - around) ** 2;
  return Math.sqrt(sum / values.length);
}

export function outlookOfTray(farm: Farm, tray: TrayState, atMs: number): BenchOutlook {
  return outlookFor(farm, benchOf(farm, tray.benchId), atMs);
}
