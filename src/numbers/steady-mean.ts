import { median } from './median.js';

/** Median absolute deviation to standard deviation of a normal distribution. */
const madToSd = 1.4826;
const widthSd = 3;
/** Never narrower than this, counts (judgement): the converter itself is sure to two. */
const leastWidthCounts = 4;

/**
 * Mean of samples without those far from the rest: a flipped bit on the line gives one wild count, mains hum gives many that
 * cancel over whole cycles, which a median would not let them do.
 */
export function steadyMean(counts: readonly number[]): number {
  const middle = median(counts);
  const deviation = median(counts.map((one) => Math.abs(one - middle)));
  const width = Math.max(leastWidthCounts, widthSd * madToSd * deviation);
  const kept = counts.filter((one) => Math.abs(one - middle) <= width);
  return kept.reduce((sum, one) => sum + one, 0) / kept.length;
}
