import { probabilityDryWithin, type TrayForecast } from '../../drying/model/tray-forecast.js';

/** Full to refill of an uncovered 19 mm block at 20 degC, 60 %, still air: block model, about 16 h; times (side/19)^1.2 (size prior 1 : 2.3 : 3.5). */
const BARE_HOURS_19MM = 16;
const BARE_HOURS_EXPONENT = 1.2;
/** Shape of the log-logistic spread of that prior: a factor of about 1.6 either way at one standard deviation. */
const BARE_HOURS_SHAPE = 3.6;
/** Share of the blocks that are past the refill point when the driest tenth, and when the mean block, is there. */
const TENTH_SHARE = 0.1;
const MEAN_SHARE = 0.5;
/** No loss is reckoned beyond the mean block's. */
export const MOST_LOSS_SHARE = MEAN_SHARE;
/**
 * Listing or calling early costs a pour and wet blocks when the tray would have lasted this much longer than the time to the round
 * after the coming one, and more than a day.
 */
const FAR_TOO_EARLY_FACTOR = 2;
const FAR_TOO_EARLY_H = 24;

/** However long nobody speaks of a cover, an even chance that it is off is as far as doubt goes. */
export const MOST_COVER_DOUBT = 0.5;

/** The chance that a tray's cover is off though nobody said so, 0 to 1; 0 where the cover is sure. */
export interface CoverDoubt {
  readonly probability: number;
  readonly blockSideMm: number;
}

/** Water between refill point (0) and container capacity (1); outside when drier or wetter. */
export function moistureIndex(forecast: TrayForecast): number {
  const spanM3PerM3 = forecast.containerCapacityM3PerM3 - forecast.refillPointM3PerM3;
  return spanM3PerM3 > 0 ? (forecast.waterContentM3PerM3 - forecast.refillPointM3PerM3) / spanM3PerM3 : 0;
}

function dryIfBare(index: number, blockSideMm: number, hours: number): number {
  if (index <= 0) return 1;
  if (hours <= 0) return 0;
  const medianH = index * BARE_HOURS_19MM * (blockSideMm / 19) ** BARE_HOURS_EXPONENT;
  return 1 / (1 + (medianH / hours) ** BARE_HOURS_SHAPE);
}

function doubted(sure: number, forecast: TrayForecast, doubt: CoverDoubt | undefined, hours: number): number {
  if (doubt === undefined || doubt.probability === 0) return sure;
  const bare = Math.max(sure, dryIfBare(moistureIndex(forecast), doubt.blockSideMm, hours));
  return sure + doubt.probability * (bare - sure);
}

/** Probability, 0 to 1, that a tenth of the blocks are at the refill point within `hours`. */
export function tenthDryWithin(forecast: TrayForecast, hours: number, doubt?: CoverDoubt): number {
  return doubted(probabilityDryWithin(forecast.driestTenthHours, hours), forecast, doubt, hours);
}

/** Probability, 0 to 1, that the mean block is at the refill point within `hours`. */
export function meanDryWithin(forecast: TrayForecast, hours: number, doubt?: CoverDoubt): number {
  return doubted(probabilityDryWithin(forecast.meanBlockHours, hours), forecast, doubt, hours);
}

/**
 * Share of the tray's blocks, 0 to 0.5, that is expected past the refill point within `hours`: the expected loss of waiting,
 * in trays, from both distributions.
 */
export function expectedLossShare(forecast: TrayForecast, hours: number, doubt?: CoverDoubt): number {
  return (
    TENTH_SHARE * tenthDryWithin(forecast, hours, doubt) +
    (MEAN_SHARE - TENTH_SHARE) * meanDryWithin(forecast, hours, doubt)
  );
}

/**
 * Probability that water now, or at a round whose notice is `hoursToNotice` away, would be far too early; `hoursToRoundAfter` the
 * round after the coming one, both from now.
 */
export function farTooEarly(
  forecast: TrayForecast,
  hoursToRoundAfter: number,
  hoursToNotice: number,
  doubt?: CoverDoubt,
): number {
  const coveredH = hoursToRoundAfter - hoursToNotice;
  const farH = hoursToNotice + Math.max(FAR_TOO_EARLY_H, FAR_TOO_EARLY_FACTOR * coveredH);
  return 1 - meanDryWithin(forecast, farH, doubt);
}
