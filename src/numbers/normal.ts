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

/** Coefficients of Acklam's rational approximation (P. J. Acklam, An algorithm for computing the inverse normal cumulative distribution function, 2003): the middle and the tails, numerator and denominator. */
const MIDDLE = {
  above: [
    -39.69683028665376, 220.9460984245205, -275.9285104469687, 138.357751867269, -30.66479806614716,
    2.506628277459239,
  ],
  below: [
    -54.47609879822406, 161.5858368580409, -155.6989798598866, 66.80131188771972, -13.28068155288572, 1,
  ],
} as const;
const TAIL = {
  above: [
    -0.007784894002430293, -0.3223964580411365, -2.400758277161838, -2.549732539343734, 4.374664141464968,
    2.938163982698783,
  ],
  below: [0.007784695709041462, 0.3224671290700398, 2.445134137142996, 3.754408661907416, 1],
} as const;
/** Probability below which the tail's approximation holds. */
const TAIL_BELOW = 0.02425;

const polynomial = (coefficients: readonly number[], x: number): number =>
  coefficients.reduce((sum, value) => sum * x + value, 0);

/** Standard normal quantile of a probability above 0 and below 1, relative error below 1.2e-9; as fast as draws need it. */
export function quickNormalQuantile(probability: number): number {
  if (probability < TAIL_BELOW) {
    const q = Math.sqrt(-2 * Math.log(probability));
    return polynomial(TAIL.above, q) / polynomial(TAIL.below, q);
  }
  if (probability > 1 - TAIL_BELOW) return -quickNormalQuantile(1 - probability);
  const q = probability - 0.5;
  const r = q * q;
  return (polynomial(MIDDLE.above, r) * q) / polynomial(MIDDLE.below, r);
}

/** Standard normal quantile of a probability above 0 and below 1: the quick one, and a step of Newton's method. */
export function normalQuantile(probability: number): number {
  const z = quickNormalQuantile(probability);
  return z - (normalCdf(z) - probability) / normalDensity(z);
}
