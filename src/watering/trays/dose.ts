import type { TrayForecast } from '../../drying/model/tray-forecast.js';
import { hoursQuantile } from '../../drying/model/tray-forecast.js';
import type { TrayNow } from '../desk/watering-desk.js';

/** One cubic millimetre is a thousandth of a millilitre. */
const ML_PER_MM3 = 1e-3;

/** All blocks of a tray together, mL: count x side^3. */
export function blocksVolumeMl(tray: Pick<TrayNow, 'blockSideMm' | 'blockCount'>): number {
  return tray.blockCount * tray.blockSideMm ** 3 * ML_PER_MM3;
}

/** Water content after `hours` more of the present fall, m3/m3, by the middle of the forecast; never below zero. */
export function waterContentAfter(forecast: TrayForecast, hours: number): number {
  const medianH = hoursQuantile(forecast.meanBlockHours, 0.5);
  const aboveRefill = forecast.waterContentM3PerM3 - forecast.refillPointM3PerM3;
  if (medianH === null || medianH <= 0 || aboveRefill <= 0) return forecast.waterContentM3PerM3;
  return Math.max(0, forecast.waterContentM3PerM3 - (aboveRefill * Math.min(hours, medianH)) / medianH);
}

/**
 * What the blocks must take up to be back at container capacity, mL: blocks x volume x missing water x the tray's learned
 * uptake (1 = as the water contents say). Not rounded, never negative.
 */
export function missingWaterMl(
  tray: TrayNow,
  forecast: TrayForecast,
  hoursUntilPour: number,
  uptakeFactor: number,
): number {
  const missing = forecast.containerCapacityM3PerM3 - waterContentAfter(forecast, hoursUntilPour);
  return Math.max(0, missing) * blocksVolumeMl(tray) * uptakeFactor;
}
