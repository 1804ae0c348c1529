import { FORECAST_HORIZON_H, type HoursQuantiles } from '../../../shared/facts/forecast.js';

/** What a forecast of one tray rests on. */
export type ForecastBasis = 'probe' | 'shared' | 'prior';

/** Hours of an ensemble's members, sorted ascending, one entry per member; `Infinity` beyond the horizon, 0 when already there. */
export interface DryHours {
  /** Until the mean block is at the refill point, width corrected. */
  readonly meanBlockHours: Float64Array;
  /** Until a tenth of the blocks are at the refill point, width corrected. */
  readonly driestTenthHours: Float64Array;
}

/**
 * Ensemble forecast of one tray, and all that the desk is told of its water: no further watering, the cover as it is.
 */
export interface TrayForecast extends DryHours {
  readonly trayId: string;
  readonly atMs: number;
  readonly waterContentM3PerM3: number;
  readonly waterContentSdM3PerM3: number;
  readonly containerCapacityM3PerM3: number;
  readonly refillPointM3PerM3: number;
  /** Fall of the mean block's water content after 0, 1, 2 … hours, m³/m³: the middle of what is believed, without spread. */
  readonly fallByHour: Float64Array;
  /** The same tray with its cover off, should somebody have taken it off without a word; absent where none is on. */
  readonly ifUncovered?: DryHours | undefined;
  readonly basis: ForecastBasis;
}

/** Water between refill point (0) and container capacity (1); outside when drier or wetter. */
export function moistureIndex({
  waterContentM3PerM3,
  containerCapacityM3PerM3,
  refillPointM3PerM3,
}: Pick<TrayForecast, 'waterContentM3PerM3' | 'containerCapacityM3PerM3' | 'refillPointM3PerM3'>): number {
  const spanM3PerM3 = containerCapacityM3PerM3 - refillPointM3PerM3;
  return spanM3PerM3 > 0 ? (waterContentM3PerM3 - refillPointM3PerM3) / spanM3PerM3 : 0;
}

/** How far the mean block's water content will have fallen after `hours`, m³/m³, linear within an hour; as at the last hour told beyond it. */
export function fallAfter({ fallByHour }: Pick<TrayForecast, 'fallByHour'>, hours: number): number {
  const last = fallByHour.length - 1;
  const at = Math.min(Math.max(0, hours), last);
  const below = fallByHour[Math.floor(at)] ?? 0;
  return below + ((fallByHour[Math.ceil(at)] ?? below) - below) * (at - Math.floor(at));
}

/** The forecast as it stands `elapsedH` later if all goes as foretold, but for its water content. */
export function broughtForward<T extends TrayForecast>(forecast: T, elapsedH: number): T {
  const sooner = (hours: Float64Array): Float64Array => hours.map((hour) => Math.max(0, hour - elapsedH));
  const soonerBoth = ({ meanBlockHours, driestTenthHours }: DryHours): DryHours => ({
    meanBlockHours: sooner(meanBlockHours),
    driestTenthHours: sooner(driestTenthHours),
  });
  const fallen = fallAfter(forecast, elapsedH);
  return {
    ...forecast,
    ...soonerBoth(forecast),
    fallByHour: forecast.fallByHour.map((_, hour) => fallAfter(forecast, hour + elapsedH) - fallen),
    ifUncovered: forecast.ifUncovered && soonerBoth(forecast.ifUncovered),
  };
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

/** What is told of any spread: its outer tenths and its middle. */
export const TENTHS = { p10: 0.1, p50: 0.5, p90: 0.9 } as const;

/** p10, p50, p90 of sorted member hours. */
export function hoursQuantiles(sortedHours: Float64Array): HoursQuantiles {
  return {
    p10: hoursQuantile(sortedHours, TENTHS.p10),
    p50: hoursQuantile(sortedHours, TENTHS.p50),
    p90: hoursQuantile(sortedHours, TENTHS.p90),
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
