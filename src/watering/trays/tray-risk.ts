import { HOURS_PER_DAY } from '../../../shared/base/time-units.js';
import { type DryHours, probabilityDryWithin, type TrayForecast } from '../../drying/model/tray-forecast.js';

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

/** However long nobody speaks of a cover, an even chance that it is off is as far as doubt goes. */
export const MOST_COVER_DOUBT = 0.5;

/** Mixes what is sure with what holds if the cover is off, by `coverDoubt`, the chance of that (0 to 1). */
function dryWithin(forecast: TrayForecast, of: keyof DryHours, hours: number, coverDoubt: number): number {
  const sure = probabilityDryWithin(forecast[of], hours);
  const { ifUncovered } = forecast;
  if (coverDoubt === 0 || ifUncovered === undefined) return sure;
  return sure + coverDoubt * Math.max(0, probabilityDryWithin(ifUncovered[of], hours) - sure);
}

/** Probability, 0 to 1, that a tenth of the blocks are at the refill point within `hours`. */
export function tenthDryWithin(forecast: TrayForecast, hours: number, coverDoubt = 0): number {
  return dryWithin(forecast, 'driestTenthHours', hours, coverDoubt);
}

/** Probability, 0 to 1, that the mean block is at the refill point within `hours`. */
export function meanDryWithin(forecast: TrayForecast, hours: number, coverDoubt = 0): number {
  return dryWithin(forecast, 'meanBlockHours', hours, coverDoubt);
}

/**
 * Share of the tray's blocks, 0 to 0.5, that is expected past the refill point within `hours`: the expected loss of waiting,
 * in trays, from both distributions.
 */
export function expectedLossShare(forecast: TrayForecast, hours: number, coverDoubt = 0): number {
  return (
    TENTH_SHARE * tenthDryWithin(forecast, hours, coverDoubt) +
    (MEAN_SHARE - TENTH_SHARE) * meanDryWithin(forecast, hours, coverDoubt)
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
  coverDoubt = 0,
): number {
  const coveredH = hoursToRoundAfter - hoursToNotice;
  const farH = hoursToNotice + Math.max(HOURS_PER_DAY, FAR_TOO_EARLY_FACTOR * coveredH);
  return 1 - meanDryWithin(forecast, farH, coverDoubt);
}
