import { FORECAST_HORIZON_H, type HoursQuantiles } from '../../../shared/facts/forecast.js';

/** What a forecast of one tray rests on. */
export type ForecastBasis = 'probe' | 'shared' | 'prior';

/**
 * Ensemble forecast of one tray: no further watering, the cover as it is.
 * Hours are sorted ascending, one entry per member, `Infinity` beyond the horizon, 0 when already there.
 */
export interface TrayForecast {
  readonly trayId: string;
  readonly atMs: number;
  readonly waterContentM3PerM3: number;
  readonly waterContentSdM3PerM3: number;
  readonly containerCapacityM3PerM3: number;
  readonly refillPointM3PerM3: number;
  /** Hours until the mean block is at the refill point, width corrected. */
  readonly meanBlockHours: Float64Array;
  /** Hours until a tenth of the blocks are at the refill point, width corrected. */
  readonly driestTenthHours: Float64Array;
  readonly basis: ForecastBasis;
}

/**
 * Quantile of sorted member hours by linear interpolation between order statistics (Hyndman & Fan 1996, type 7).
 * Returns null when the quantile lies beyond the horizon. Throws RangeError for an empty ensemble.
 */
export function hoursQuantile(sortedHours: Float64Array, probability: number): number | null {
  const position = probability * (sortedHours.length - 1);
  const below = sortedHours[Math.floor(position)];
  const above = sortedHours[Math.ceil(position)];
  if (below === undefined || above === undefined)
    throw new RangeError('a forecast needs at least one member');
  const hours = below === above ? below : below + (above - below) * (position - Math.floor(position));
  return hours <= FORECAST_HORIZON_H ? hours : null;
}

/** p10, p50, p90 of sorted member hours. */
export function hoursQuantiles(sortedHours: Float64Array): HoursQuantiles {
  return {
    p10: hoursQuantile(sortedHours, 0.1),
    p50: hoursQuantile(sortedHours, 0.5),
    p90: hoursQuantile(sortedHours, 0.9),
  };
}

/** Share of members at the refill point within `hours`, 0 to 1. */
export function probabilityDryWithin(sortedHours: Float64Array, hours: number): number {
  let low = 0;
  let high = sortedHours.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((sortedHours[middle] ?? Number.POSITIVE_INFINITY) <= hours) low = middle + 1;
    else high = middle;
  }
  return sortedHours.length === 0 ? 0 : low / sortedHours.length;
}
