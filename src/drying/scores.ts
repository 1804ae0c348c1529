import { normalCdf, normalDensity } from './normal.js';

/** Scores of forecasts (Gneiting & Raftery 2007); all are losses, smaller is better. */

const INV_SQRT_PI = 1 / Math.sqrt(Math.PI);

/** Pinball loss of a forecast quantile: max(q(y − f), (q − 1)(y − f)); `probability` 0 to 1. */
export function pinballLoss(outcome: number, forecast: number, probability: number): number {
  const error = outcome - forecast;
  return error >= 0 ? probability * error : (probability - 1) * error;
}

/** Continuous ranked probability score of an ensemble: mean|x − y| − ½ mean|x − x'|. RangeError when empty. */
export function crpsOfEnsemble(outcome: number, members: Float64Array | readonly number[]): number {
  const count = members.length;
  if (count === 0) throw new RangeError('an ensemble needs at least one member');
  const sorted = Float64Array.from(members).sort();
  let distance = 0;
  let spread = 0;
  for (let i = 0; i < count; i++) {
    const member = sorted[i] ?? 0;
    distance += Math.abs(member - outcome);
    spread += (2 * i + 1 - count) * member;
  }
  return distance / count - spread / (count * count);
}

/** Continuous ranked probability score of a normal forecast with `sd` above 0. */
export function crpsOfNormal(outcome: number, mean: number, sd: number): number {
  const z = (outcome - mean) / sd;
  return sd * (z * (2 * normalCdf(z) - 1) + 2 * normalDensity(z) - INV_SQRT_PI);
}

/** Interval score of a central interval of level 1 − `alpha`: its width, and 2/alpha times what misses it. */
export function intervalScore(outcome: number, low: number, high: number, alpha: number): number {
  const below = Math.max(0, low - outcome);
  const above = Math.max(0, outcome - high);
  return high - low + (2 / alpha) * (below + above);
}
