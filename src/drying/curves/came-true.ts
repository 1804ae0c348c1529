import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import { survivalCurve } from '../../numbers/kaplan-meier.js';
import { BAND_ENDS_H } from '../climate/spread-score.js';

/** A tray just watered is still taking up: nobody asks how long it lasts (judgement). */
export const AFTER_POUR_H = 3;
/** What comes within the hour is seen, not foretold; further off than three days nobody plans a round by it (judgement). */
export const LEAST_OUTCOME_H = 1;
export const MOST_OUTCOME_H = 72;
/** Bands of the forecast's middle, hours. */
export const MIDDLE_BANDS_H = [
  [0, BAND_ENDS_H[0]],
  [BAND_ENDS_H[0], BAND_ENDS_H[1]],
  [BAND_ENDS_H[1], MOST_OUTCOME_H],
] as const;
/** Where fewer dry-downs than this were left alone up to an end of the range, what lies beyond it is not told (judgement). */
const FEWEST_DRY_DOWNS = 3;

/** One forecast of a tray's hours to refill (mean block), and for how long it could be held against the tray. */
export interface FollowedForecast {
  /** Which dry-down it fell into: all forecasts of one share their luck. */
  readonly dryDown: string;
  readonly p10H: number;
  readonly p50H: number;
  /** Infinity beyond the horizon. */
  readonly p90H: number;
  /** Hours until the refill point was reached, or until a watering broke it off. */
  readonly followedH: number;
  readonly reached: boolean;
}

/** How forecasts of hours did. The three shares add up to 1; null where too few were left alone long enough to tell. */
export interface CameTrue {
  readonly forecastCount: number;
  /** Of them decided: the refill point was reached, or the whole range passed without it. */
  readonly decidedCount: number;
  readonly dryDownCount: number;
  /** Dry-downs in which at least one forecast was decided. */
  readonly decidedDryDownCount: number;
  /** Reached within p10 to p90, ends included: 0.8 is promised. */
  readonly insideShare: number | null;
  readonly soonerShare: number | null;
  readonly laterShare: number | null;
}

/** Where an outcome lies: below 1 sooner than the range, 1 to 2 within it, above 2 later. */
function placeInRange({ followedH, p10H, p90H }: FollowedForecast): number {
  if (followedH < p10H) return followedH / p10H;
  if (followedH > p90H) return 3;
  return 1 + (p90H > p10H && Number.isFinite(p90H) ? (followedH - p10H) / (p90H - p10H) : 0);
}

/**
 * The one meaning of "came true within the range", in hours: the share of forecasts whose tray reached its refill point between
 * their p10 and p90. Most trays are watered first, and a forecast that was broken off still says that it was not too long. So
 * outcomes are laid on the forecast's own scale and the share is the product-limit estimate there, broken-off ones counting as
 * "not until then". When nothing was broken off it is the plain share; where hardly any was left alone that long it is not told.
 */
export function cameTrue(forecasts: readonly FollowedForecast[]): CameTrue {
  const placed = forecasts.map((one) => {
    const hours = placeInRange(one);
    // A range without a late end can't be outlived: what is left alone until its early end is within it.
    const isOpenEnded = hours >= 1 && !Number.isFinite(one.p90H);
    return { dryDown: one.dryDown, hours, reached: one.reached || isOpenEnded };
  });
  const decided = placed.filter(({ reached, hours }) => reached || hours > 2);
  const curve = survivalCurve(placed);
  const leftAfter = (isWithin: (hours: number) => boolean): number =>
    curve.findLast(({ hours }) => isWithin(hours))?.survival ?? 1;
  const isWhole = decided.length === placed.length;
  const isTold = (enough: readonly (typeof placed)[number][]): boolean =>
    placed.length > 0 && (isWhole || dryDownCount(enough) >= FEWEST_DRY_DOWNS);
  const notSooner = leftAfter((hours) => hours < 1);
  const later = leftAfter((hours) => hours <= 2);
  const soonerShare = isTold(placed.filter(({ hours }) => hours >= 1)) ? 1 - notSooner : null;
  const outlived = placed.filter(({ hours }) => hours > 2);
  const laterShare = soonerShare !== null && (later === 0 || isTold(outlived)) ? later : null;
  return {
    forecastCount: forecasts.length,
    decidedCount: decided.length,
    dryDownCount: dryDownCount(forecasts),
    decidedDryDownCount: dryDownCount(decided),
    insideShare: laterShare === null ? null : notSooner - laterShare,
    soonerShare,
    laterShare,
  };
}

function dryDownCount(forecasts: readonly { readonly dryDown: string }[]): number {
  return new Set(forecasts.map(({ dryDown }) => dryDown)).size;
}

/** A forecast as the store keeps it; null beyond the horizon. */
interface ToldForecast {
  readonly atMs: number;
  readonly p10H: number | null;
  readonly p50H: number | null;
  readonly p90H: number | null;
}

interface EndedDryDown {
  readonly trayId: string;
  readonly startedAtMs: number;
  readonly endedAtMs: number;
  readonly refillReachedAtMs?: number | undefined;
}

/**
 * Which of one tray's forecasts count, each with what came of it: told in a finished dry-down, not right after its pour, not at
 * the refill point already, with an outcome at least an hour off and a middle within three days. Both lists in the order of time.
 */
export function followForecasts(
  dryDowns: readonly EndedDryDown[],
  forecasts: readonly ToldForecast[],
): readonly FollowedForecast[] {
  let next = 0;
  return dryDowns.flatMap(({ trayId, startedAtMs, endedAtMs, refillReachedAtMs }) => {
    const overAtMs = refillReachedAtMs ?? endedAtMs;
    const followed: FollowedForecast[] = [];
    while ((forecasts[next]?.atMs ?? Number.POSITIVE_INFINITY) < startedAtMs + AFTER_POUR_H * MS_PER_HOUR)
      next += 1;
    for (let told = forecasts[next]; told !== undefined && told.atMs < endedAtMs; told = forecasts[++next]) {
      const { atMs, p10H, p50H, p90H } = told;
      const followedH = (overAtMs - atMs) / MS_PER_HOUR;
      if (followedH < LEAST_OUTCOME_H || p10H === null || p50H === null) continue;
      if (p50H === 0 || p50H > MOST_OUTCOME_H) continue;
      followed.push({
        dryDown: `${trayId} ${startedAtMs}`,
        p10H,
        p50H,
        p90H: p90H ?? Number.POSITIVE_INFINITY,
        followedH,
        reached: refillReachedAtMs !== undefined,
      });
    }
    return followed;
  });
}

/** How forecasts of one band of their own middle did. */
export interface BandCameTrue extends CameTrue {
  readonly fromH: number;
  readonly belowH: number;
}

export function cameTrueByBand(forecasts: readonly FollowedForecast[]): readonly BandCameTrue[] {
  return MIDDLE_BANDS_H.map(([fromH, belowH]) => ({
    fromH,
    belowH,
    ...cameTrue(forecasts.filter(({ p50H }) => p50H >= fromH && p50H < belowH)),
  }));
}
