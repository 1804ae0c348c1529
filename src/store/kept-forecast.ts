import type { Forecast } from '../../shared/forecast.js';
import type { KeptForecast } from '../monitor/ports.js';

/** The short form of a forecast, for the fan on a tray's curve. */
export function toKeptForecast(forecast: Forecast): KeptForecast {
  return {
    atMs: Date.parse(forecast.at),
    trayId: forecast.tray,
    waterContentM3PerM3: forecast.waterContentM3PerM3,
    p10H: forecast.hoursToRefill.p10,
    p50H: forecast.hoursToRefill.p50,
    p90H: forecast.hoursToRefill.p90,
    driestTenthP50H: forecast.hoursToRefillDriestTenth.p50,
  };
}
