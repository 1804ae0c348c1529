import { PROBABILITY_TOLERANCE } from './quantile.js';

/**
 * Quantiles of values of which some are only known as "at most". Both lists ascend. The product-limit estimate run from the top
 * down, as for measurements under a detection limit (Ware & DeMets 1976, Biometrics 32:459; Gomez et al. 1992; from memory): a bound's
 * share goes to the values below it. Interpolated between values as type 7 is, and equal to it when there is no bound. Null where
 * a quantile lies among bounds that no value undercuts.
 */
export function leftCensoredQuantiles(
  values: ArrayLike<number>,
  bounds: ArrayLike<number>,
  probabilities: readonly number[],
): readonly (number | null)[] {
  const count = values.length;
  const below = new Float64Array(count);
  let left = 1;
  let atRisk = count + bounds.length;
  let bound = bounds.length - 1;
  for (let i = count - 1; i >= 0; i--) {
    const value = values[i] as number;
    // At one level a value counts before a bound.
    while (bound >= 0 && (bounds[bound] as number) > value) {
      bound -= 1;
      atRisk -= 1;
    }
    left *= 1 - 1 / atRisk;
    atRisk -= 1;
    below[i] = left;
  }
  const top = below[count - 1] ?? 0;
  return probabilities.map((probability) => quantileAt(values, below, probability * top));
}

/** `below[i]`: share below value i, ascending; `share` counts up to the share below the highest. */
function quantileAt(values: ArrayLike<number>, below: Float64Array, share: number): number | null {
  if (share < (below[0] ?? Number.POSITIVE_INFINITY) - PROBABILITY_TOLERANCE) return null;
  let i = 0;
  while (i + 1 < below.length && (below[i + 1] as number) <= share + PROBABILITY_TOLERANCE) i += 1;
  const [low, high] = [values[i] as number, values[i + 1]];
  if (high === undefined) return low;
  const gap = (below[i + 1] as number) - (below[i] as number);
  const part = gap <= 0 ? 0 : Math.max(0, share - (below[i] as number)) / gap;
  return low + part * (high - low);
}
