import { normalQuantile } from './normal.js';
import { PROBABILITY_TOLERANCE } from './quantile.js';

/** How long something was watched, and whether what it was watched for came. */
export interface Watched {
  readonly hours: number;
  readonly reached: boolean;
}

/** The survival curve just after one time at which something was reached. */
export interface SurvivalStep {
  readonly hours: number;
  /** Share that had not reached it yet. */
  readonly survival: number;
  /** 90 % interval of the share, by the log-log transform, which stays within 0 and 1. */
  readonly survivalLow: number;
  readonly survivalHigh: number;
  readonly atRisk: number;
  readonly reachedCount: number;
}

/** A quantile of hours; null where too few were watched that long for the curve to fall so far. */
export interface HoursEstimate {
  readonly hours: number | null;
  readonly lowHours: number | null;
  readonly highHours: number | null;
}

/** For a two-sided interval of 90 %. */
const Z_95 = normalQuantile(0.95);

/**
 * Product-limit estimate of the share that lasts longer than a time, from times of which many are only "longer than"
 * (Kaplan & Meier 1958, J. Am. Stat. Assoc. 53:457). Variance by Greenwood (1926); interval of log(-log S) after
 * Kalbfleisch & Prentice (1980). At one time what was reached counts before what was broken off.
 * It takes for granted that breaking off says nothing about how long it would have lasted. Growers water trays BECAUSE they
 * are nearly dry, so the true hours tend to lie somewhat below the estimate.
 */
export function survivalCurve(watched: readonly Watched[], z = Z_95): readonly SurvivalStep[] {
  const reachedCounts = new Map<number, number>();
  for (const { hours, reached } of watched)
    if (reached) reachedCounts.set(hours, (reachedCounts.get(hours) ?? 0) + 1);
  const times = Float64Array.from(watched, ({ hours }) => hours).sort();
  let earlier = 0;
  let survival = 1;
  let greenwood = 0;
  return [...reachedCounts]
    .sort(([a], [b]) => a - b)
    .map(([hours, reachedCount]) => {
      while ((times[earlier] ?? hours) < hours) earlier += 1;
      const atRisk = times.length - earlier;
      survival *= 1 - reachedCount / atRisk;
      greenwood += reachedCount / (atRisk * (atRisk - reachedCount));
      return { hours, survival, ...interval(survival, greenwood, z), atRisk, reachedCount };
    });
}

function interval(survival: number, greenwood: number, z: number) {
  if (survival <= 0) return { survivalLow: 0, survivalHigh: 0 };
  const halfWidth = (z * Math.sqrt(greenwood)) / Math.abs(Math.log(survival));
  return {
    survivalLow: survival ** Math.exp(halfWidth),
    survivalHigh: survival ** Math.exp(-halfWidth),
  };
}

/**
 * Hours by which a share `probability` has reached it: the first time at which the curve is down to 1 - probability, with the
 * interval of Brookmeyer & Crowley (1982, Biometrics 38:29).
 */
export function hoursEstimate(curve: readonly SurvivalStep[], probability: number): HoursEstimate {
  const left = 1 - probability;
  const firstDownTo = (share: (step: SurvivalStep) => number) =>
    curve.find((step) => share(step) <= left + PROBABILITY_TOLERANCE)?.hours ?? null;
  return {
    hours: firstDownTo((step) => step.survival),
    lowHours: firstDownTo((step) => step.survivalLow),
    highHours: firstDownTo((step) => step.survivalHigh),
  };
}
