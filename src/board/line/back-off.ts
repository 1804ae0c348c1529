/** First wait, and the longest one, between two attempts to reach a board, milliseconds. */
export const firstWaitMs = 1_000;
export const longestWaitMs = 30_000;

/**
 * Delays between attempts to reach a board: doubling from 1 s to 30 s, each shortened by up to half at random so that
 * several boards behind one hub do not knock in step.
 *
 * @param random uniform in [0, 1)
 */
export function* backOffMs(random: () => number): Generator<number, never, undefined> {
  for (let waitMs = firstWaitMs; ; waitMs = Math.min(waitMs * 2, longestWaitMs))
    yield waitMs * (1 - random() / 2);
}
