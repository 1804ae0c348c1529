import { fallAfter, type TrayForecast } from '../../drying/model/tray-forecast.js';
import { trayVolumeMl } from '../../drying/physics/tray-geometry.js';
import type { TrayNow } from '../desk/watering-desk.js';

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
  return Math.max(0, missing) * trayVolumeMl(tray) * uptakeFactor;
}
