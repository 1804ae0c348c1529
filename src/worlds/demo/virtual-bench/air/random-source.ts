/** Numbers drawn from a seed: the same seed gives the same season on every machine. */
export interface RandomSource {
  /** Uniform in [0, 1). */
  unit(): number;
  /** Uniform in [low, high). */
  between(low: number, high: number): number;
  /** Gaussian. */
  normal(mean: number, sd: number): number;
  /** Lognormal around a median, `logSd` in natural logarithms. */
  around(median: number, logSd: number): number;
  chance(probability: number): boolean;
  /** One of the entries. Throws RangeError for an empty list. */
  pick<T>(entries: readonly T[]): T;
  /** A source of its own for a named part, so that one part's draws never shift another's. */
  fork(name: string): RandomSource;
}

/** FNV-1a, 32 bit (Fowler, Noll, Vo): turns a name into a seed. */
function hashName(name: string, basis: number): number {
  const prime = 0x01000193;
  let hash = basis >>> 0;
  for (let i = 0; i < name.length; i++) hash = Math.imul(hash ^ name.charCodeAt(i), prime) >>> 0;
  return hash;
}

/** Mulberry32 by Tommy Ettinger (public domain): a 32-bit state is plenty for weather and habits. */
function mulberry32(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/** @param seed any number; its lower 32 bits count. */
export function createRandomSource(seed: number): RandomSource {
  const unit = mulberry32(hashName(String(seed), 0x811c9dc5));
  const normal = (mean: number, sd: number): number => {
    const radius = Math.sqrt(-2 * Math.log(1 - unit()));
    return mean + sd * radius * Math.cos(2 * Math.PI * unit());
  };
  return {
    unit,
    normal,
    between: (low, high) => low + (high - low) * unit(),
    around: (median, logSd) => median * Math.exp(normal(0, logSd)),
    chance: (probability) => unit() < probability,
    pick: (entries) => {
      const entry = entries[Math.floor(unit() * entries.length)];
      if (entry === undefined) throw new RangeError('cannot pick from an empty list');
      return entry;
    },
    fork: (name) => createRandomSource(hashName(name, seed >>> 0)),
  };
}
