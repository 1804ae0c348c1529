/**
 * Median; the mean of the middle two for an even count.
 * @param values at least one
 * @throws RangeError on none
 */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const upper = sorted[Math.floor(sorted.length / 2)];
  const lower = sorted[Math.floor((sorted.length - 1) / 2)];
  if (upper === undefined || lower === undefined) throw new RangeError('expected at least one value');
  return (upper + lower) / 2;
}
