/**
 * Delays between attempts to connect, milliseconds: doubling from `firstMs` to `longestMs`, each drawn between half
 * and all of it so that several clients do not come back in step.
 * @param random uniform in [0, 1)
 */
export function* backOffMs(
  random: () => number,
  firstMs = 500,
  longestMs = 30_000,
): Generator<number, never, undefined> {
  for (let step = firstMs; ; step = Math.min(step * 2, longestMs)) yield step * (0.5 + random() / 2);
}
