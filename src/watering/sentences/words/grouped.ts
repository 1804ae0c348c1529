/** What has the same key together, in the order of the first of each. */
export function grouped<T>(items: readonly T[], key: (item: T) => string): readonly (readonly T[])[] {
  const groups = new Map<string, T[]>();
  for (const item of items) groups.set(key(item), [...(groups.get(key(item)) ?? []), item]);
  return [...groups.values()];
}

/** The earliest of the instants that are known; undefined: none is. */
export function firstOf(instants: readonly (number | undefined)[]): number | undefined {
  const known = instants.filter((atMs) => atMs !== undefined);
  return known.length === 0 ? undefined : Math.min(...known);
}
