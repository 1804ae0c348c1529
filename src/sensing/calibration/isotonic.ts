/** One level of an isotonic fit: `count` neighbouring points pooled into their mean. */
export interface IsotonicLevel {
  readonly x: number;
  readonly y: number;
  readonly count: number;
}

/**
 * Least-squares fit of a never-falling sequence (pool adjacent violators; Barlow et al. 1972) to points whose `x`
 * ascends. Points that break the order are pooled into one level at their mean x and y, so that levels rise strictly.
 */
export function isotonicLevels(x: readonly number[], y: readonly number[]): IsotonicLevel[] {
  const levels: IsotonicLevel[] = [];
  for (let i = 0; i < x.length; i++) {
    let level: IsotonicLevel = { x: x[i] ?? 0, y: y[i] ?? 0, count: 1 };
    for (let before = levels.at(-1); before !== undefined && before.y >= level.y; before = levels.at(-1)) {
      level = pooled(before, level);
      levels.pop();
    }
    levels.push(level);
  }
  return levels;
}

/** Two neighbouring levels as one. */
export function pooled(a: IsotonicLevel, b: IsotonicLevel): IsotonicLevel {
  const count = a.count + b.count;
  return { x: (a.x * a.count + b.x * b.count) / count, y: (a.y * a.count + b.y * b.count) / count, count };
}
