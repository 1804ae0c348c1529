import { fallAfter, type TrayForecast } from '../../drying/model/tray-forecast.js';
import type { TrayNow } from '../desk/watering-desk.js';

/** One cubic millimetre is a thousandth of a millilitre. */
const ML_PER_MM3 = 1e-3;

/** All blocks of a tray together, mL: count x side^3. */
export function blocksVolumeMl(tray: Pick<TrayNow, 'blockSideMm' | 'blockCount'>): number {
  return tray.blockCount * tray.blockSideMm ** 3 * ML_PER_MM3;
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
  const missing =
    forecast.containerCapacityM3PerM3 - forecast.waterContentM3PerM3 + fallAfter(forecast, hoursUntilPour);
  return Math.max(0, missing) * blocksVolumeMl(tray) * uptakeFactor;
}
