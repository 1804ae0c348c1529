import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import { hoursQuantile, moistureIndex, TENTHS, type TrayForecast } from '../../drying/model/tray-forecast.js';
import type { Desk } from '../desk/desk.js';
import { memoryOf, type TrayMemory } from '../desk/desk-state.js';
import type { RegisteredTray } from '../desk/tray-register.js';
import type { SaidTray } from '../sentences/said/desk-sentences.js';
import { missingWaterMl } from '../trays/dose.js';
import { planDose } from './pour-plan.js';

/** Fillings seen before the learned uptake weighs as much as the water contents alone. */
const UPTAKE_PRIOR_COUNT = 2;
const UPTAKE_LIMIT = 1.5;
/** Below this moisture index blocks shed the first water. */
const SHEDS_WATER_INDEX = 0.05;
/** Chance that an unlisted tray was watered all the same at which the grower is told to look before pouring; judgement. */
const WORTH_A_LOOK = 0.2;

/** What this tray's blocks take up of what seems to be missing, learned from fillings that a probe has shown; 1 at first. */
export function uptakeFactor(memory: TrayMemory): number {
  const { logMean, count } = memory.uptake;
  const factor = Math.exp((logMean * count) / (count + UPTAKE_PRIOR_COUNT));
  return Math.min(UPTAKE_LIMIT, Math.max(1 / UPTAKE_LIMIT, factor));
}

/** Somebody was asked whether it was watered and has not said, or it is likely enough that it was, unasked. */
function isWorthALook(perhaps: TrayMemory['perhaps']): boolean {
  return perhaps !== undefined && (perhaps.asked === true || perhaps.probability >= WORTH_A_LOOK);
}

/** A tray with its dose, pours and time left, ready for a sentence. */
export function saidTray(
  desk: Desk,
  tray: RegisteredTray,
  forecast: TrayForecast,
  nowMs: number,
  pourAtMs: number,
): SaidTray {
  const memory = memoryOf(desk.state, tray.id);
  const untilPourH = Math.max(0, (pourAtMs - nowMs) / MS_PER_HOUR);
  const { doseMl, pourPlan } = planDose(
    tray,
    missingWaterMl(tray, forecast, untilPourH, uptakeFactor(memory)),
    moistureIndex(forecast) <= SHEDS_WATER_INDEX,
    { mostPours: desk.options.notices.mostPoursPerRound, unit: desk.options.units.volume },
  );
  const dryAtMs = (quantile: number): number | undefined => {
    const hours = hoursQuantile(forecast.driestTenthHours, quantile);
    return hours === null ? undefined : nowMs + hours * MS_PER_HOUR;
  };
  return {
    id: tray.id,
    benchId: tray.benchId,
    blockSideMm: tray.blockSideMm,
    crop: tray.crop,
    doseMl,
    pourPlan,
    dryAtMs: dryAtMs(TENTHS.p50),
    earliestDryAtMs: dryAtMs(TENTHS.p10),
    perhapsWatered: isWorthALook(memory.perhaps),
  };
}
