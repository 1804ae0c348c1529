import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import type { TrayForecast } from '../../drying/model/tray-forecast.js';
import { farTooEarly, MOST_COVER_DOUBT, tenthDryWithin } from '../trays/tray-risk.js';

/** How much the tolerated risk grows as it becomes certain that listing would be far too early: weighs a pour for nothing
 * against a tray that may need a call. Chosen on the trade-off curve, DEVELOPERS.md. */
const EARLY_WEIGHT = 7;

export interface DueJudgement {
  readonly due: boolean;
  /** Probability that the driest tenth does not last until the round after the coming one. */
  readonly risk: number;
  /** Probability that listing the tray now would be far too early. */
  readonly tooEarly: number;
}

/**
 * Is a tray due at the coming round? It is when its driest tenth will not last until the round after it, at the configured
 * risk; the risk that is tolerated grows with the chance that the tray would have lasted more than a day and twice as long, so
 * that wide forecasts (trays without a probe) are not listed at every round. Lasting long under a cover that is doubted counts less. `hoursToNotice`: how far ahead the notice of that
 * round is, 0 for the coming one.
 */
export function judgeDue(
  forecast: TrayForecast,
  hoursToRoundAfter: number,
  riskPct: number,
  coverDoubt = 0,
  hoursToNotice = 0,
): DueJudgement {
  const risk = tenthDryWithin(forecast, hoursToRoundAfter, coverDoubt);
  const tooEarly = farTooEarly(forecast, hoursToRoundAfter, hoursToNotice, coverDoubt);
  const believed = 1 - coverDoubt / MOST_COVER_DOUBT;
  const tolerated = (riskPct / 100) * (1 + EARLY_WEIGHT * believed * tooEarly);
  return { due: risk >= tolerated, risk, tooEarly };
}

/**
 * The round at which a tray that is not due now will be: the last one it can wait for. `roundsMs` ascending, coming round first,
 * two or more. Returns undefined when it is due at the coming one.
 */
export function canWaitUntil(
  forecast: TrayForecast,
  roundsMs: readonly number[],
  nowMs: number,
  riskPct: number,
  coverDoubt = 0,
): number | undefined {
  for (let index = 0; index + 1 < roundsMs.length; index++) {
    const after = roundsMs[index + 1] ?? nowMs;
    const toNoticeH = index === 0 ? 0 : ((roundsMs[index] ?? nowMs) - (roundsMs[0] ?? nowMs)) / MS_PER_HOUR;
    if (judgeDue(forecast, (after - nowMs) / MS_PER_HOUR, riskPct, coverDoubt, toNoticeH).due)
      return index === 0 ? undefined : roundsMs[index];
  }
  return roundsMs[roundsMs.length - 2];
}
