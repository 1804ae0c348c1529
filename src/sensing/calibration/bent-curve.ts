import { fitLeastSquares } from '../../numbers/fit/least-squares.js';
import type { RisingCurve } from './monotone-cubic.js';

/** Below this bend the curve is a straight line to rounding. */
const STRAIGHT = 1e-6;
const START = { level: 0.4, rise: 0.25, bend: 0.1 } as const;

/** a + b (e^{qz} − 1)/q: a line that bends one way; z runs from −1 to 1 over the points. */
function bent(z: number, parameters: Float64Array): number {
  const [level = 0, rise = 0, bend = 0] = parameters;
  return (
    level +
    (rise * (Math.abs(bend) < STRAIGHT ? z : Math.expm1(bend * z))) / (Math.abs(bend) < STRAIGHT ? 1 : bend)
  );
}

/**
 * Least-squares fit of a rising curve with one bend (level, rise, bend) to four points or more. Undefined when it does
 * not converge or does not rise.
 */
export function bentCurve(x: readonly number[], y: readonly number[]): RisingCurve | undefined {
  const first = Math.min(...x);
  const last = Math.max(...x);
  const middle = (first + last) / 2;
  const half = (last - first) / 2;
  const z = x.map((value) => (value - middle) / half);
  const fit = fitLeastSquares(bent, z, y, [START.level, START.rise, START.bend]);
  if (!fit.converged) return undefined;
  const [, rise = 0, bend = 0] = fit.parameters;
  if (!(rise > 0)) return undefined;
  return {
    valueAt: (value) => bent((value - middle) / half, fit.parameters),
    slopeAt: (value) => (rise * Math.exp((bend * (value - middle)) / half)) / half,
  };
}
