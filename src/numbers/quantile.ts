/** Probabilities that come of sums count as equal this close. */
export const PROBABILITY_TOLERANCE = 1e-12;

/**
 * Quantile of any numbers by linear interpolation between order statistics (Hyndman & Fan 1996, The American Statistician
 * 50:361, type 7). Throws RangeError for an empty list or a probability outside 0 to 1.
 */
export function quantile(values: readonly number[], probability: number): number {
  return quantileOfSorted(
    [...values].sort((a, b) => a - b),
    probability,
  );
}

/** The same of numbers that ascend already, for those who want several quantiles of them. */
export function quantileOfSorted(sorted: ArrayLike<number>, probability: number): number {
  if (!(probability >= 0 && probability <= 1))
    throw new RangeError(`expected a probability of 0 to 1, got ${probability}`);
  const position = probability * (sorted.length - 1);
  const below = sorted[Math.floor(position)];
  const above = sorted[Math.ceil(position)];
  if (below === undefined || above === undefined) throw new RangeError('a quantile needs at least one value');
  return below + (above - below) * (position - Math.floor(position));
}
