const INV_SQRT_2PI = 1 / Math.sqrt(2 * Math.PI);
const FAR_TAIL = 6;

/** Standard normal distribution function, absolute error under 1e-9: series of Marsaglia (2004), tails beyond 6 cut. */
export function normalCdf(z: number): number {
  if (z < -FAR_TAIL) return 0;
  if (z > FAR_TAIL) return 1;
  let term = z;
  let sum = z;
  for (let i = 1; sum + term !== sum; i++) {
    term *= (z * z) / (2 * i + 1);
    sum += term;
  }
  return 0.5 + sum * normalDensity(z);
}

/** Standard normal density. */
export function normalDensity(z: number): number {
  return INV_SQRT_2PI * Math.exp(-0.5 * z * z);
}

/** Winitzki's (2008) constant for the first guess. */
const WINITZKI = 0.147;
const NEWTON_STEPS = 4;

/** Standard normal quantile of a probability above 0 and below 1: Winitzki's guess, polished by Newton's method. */
export function normalQuantile(probability: number): number {
  const x = 2 * probability - 1;
  const log = Math.log(1 - x * x);
  const a = 2 / (Math.PI * WINITZKI) + log / 2;
  let z = Math.sign(x) * Math.SQRT2 * Math.sqrt(Math.sqrt(a * a - log / WINITZKI) - a);
  for (let i = 0; i < NEWTON_STEPS; i++) z -= (normalCdf(z) - probability) / normalDensity(z);
  return z;
}
