import { quickNormalQuantile } from './normal.js';

/** Deterministic 32-bit generator (mulberry32, public domain), uniform in (0, 1). */
export function uniformStream(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return (((mixed ^ (mixed >>> 14)) >>> 0) + 0.5) / 4294967296;
  };
}

/** `count` standard normal draws in random order, one from each of `count` equally likely strata. */
export function stratifiedNormals(count: number, uniform: () => number): Float64Array {
  const draws = Float64Array.from({ length: count }, (_, i) => quickNormalQuantile((i + uniform()) / count));
  for (let i = count - 1; i > 0; i--) {
    const j = Math.floor(uniform() * (i + 1));
    const held = draws[i] as number;
    draws[i] = draws[j] as number;
    draws[j] = held;
  }
  return draws;
}
