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

/** Inverse of the standard normal distribution; Acklam's rational approximation, relative error below 1.2e-9. */
export function normalQuantile(probability: number): number {
  const a = [
    -39.69683028665376, 220.9460984245205, -275.9285104469687, 138.357751867269, -30.66479806614716,
    2.506628277459239,
  ];
  const b = [
    -54.47609879822406, 161.5858368580409, -155.6989798598866, 66.80131188771972, -13.28068155288572,
  ];
  const c = [
    -0.007784894002430293, -0.3223964580411365, -2.400758277161838, -2.549732539343734, 4.374664141464968,
    2.938163982698783,
  ];
  const d = [0.007784695709041462, 0.3224671290700398, 2.445134137142996, 3.754408661907416];
  const poly = (k: readonly number[], x: number): number => k.reduce((sum, value) => sum * x + value, 0);
  const tail = 0.02425;
  if (probability < tail) {
    const q = Math.sqrt(-2 * Math.log(probability));
    return poly(c, q) / (poly(d, q) * q + 1);
  }
  if (probability > 1 - tail) return -normalQuantile(1 - probability);
  const q = probability - 0.5;
  const r = q * q;
  return (poly(a, r) * q) / (poly(b, r) * r + 1);
}

/** `count` standard normal draws in random order, one from each of `count` equally likely strata. */
export function stratifiedNormals(count: number, uniform: () => number): Float64Array {
  const draws = Float64Array.from({ length: count }, (_, i) => normalQuantile((i + uniform()) / count));
  for (let i = count - 1; i > 0; i--) {
    const j = Math.floor(uniform() * (i + 1));
    const held = draws[i] as number;
    draws[i] = draws[j] as number;
    draws[j] = held;
  }
  return draws;
}
