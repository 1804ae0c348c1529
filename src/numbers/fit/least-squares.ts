import { type Model, NormalEquations } from './normal-equations.js';

/** What came of a fit. Not having converged is an expected outcome, not an error. */
export type FitOutcome =
  | {
      readonly converged: true;
      readonly parameters: Float64Array;
      /** Standard error of each parameter, from the residual scatter and the curvature; NaN when nothing is left over. */
      readonly standardErrors: Float64Array;
      readonly residualSumOfSquares: number;
      readonly iterations: number;
    }
  | { readonly converged: false; readonly reason: 'singular' | 'iterations' | 'not-a-number' };

const MOST_ITERATIONS = 2000;
/** Tried in turn: a start far from the answer can run away to where a parameter no longer matters. */
const FIRST_DAMPINGS = [1e-2, 1e-4, 10] as const;
const DAMPING_UP = 4;
const DAMPING_DOWN = 3;
const LARGEST_DAMPING = 1e16;
/** Converged when steps and gain are this small, relative; the rounding of doubles. */
const STEP_TOLERANCE = 1e-13;
/**
 * Non-linear least squares by Levenberg–Marquardt (Marquardt 1963; damping scaled by the curvature, so that parameters
 * of very different size do no harm). Steps that make the fit worse are taken back. Derivatives by central differences.
 *
 * Throws RangeError when there are fewer points than parameters.
 */
export function fitLeastSquares(
  model: Model,
  x: readonly number[],
  y: readonly number[],
  start: readonly number[],
): FitOutcome {
  const count = start.length;
  if (x.length !== y.length || x.length < count)
    throw new RangeError(
      `a fit of ${count} parameters needs as many points, got ${x.length} and ${y.length}`,
    );
  const problem = new NormalEquations(model, Float64Array.from(x), Float64Array.from(y), count);
  let outcome: FitOutcome = { converged: false, reason: 'singular' };
  for (const damping of FIRST_DAMPINGS) {
    outcome = descend(problem, start, damping);
    if (outcome.converged || outcome.reason === 'not-a-number') return outcome;
  }
  return outcome;
}

function descend(problem: NormalEquations, start: readonly number[], firstDamping: number): FitOutcome {
  let parameters = Float64Array.from(start);
  let best = problem.sumOfSquares(parameters);
  if (!Number.isFinite(best)) return { converged: false, reason: 'not-a-number' };
  let damping = firstDamping;
  for (let iteration = 1; iteration <= MOST_ITERATIONS; iteration++) {
    problem.linearise(parameters);
    for (;;) {
      const step = problem.step(damping);
      const tried = parameters.map((value, i) => value + (step?.[i] ?? 0));
      const sum = step === undefined ? Number.POSITIVE_INFINITY : problem.sumOfSquares(tried);
      const small = step?.every(
        (s, i) => Math.abs(s) <= STEP_TOLERANCE * (Math.abs(parameters[i] ?? 0) + STEP_TOLERANCE),
      );
      if (sum <= best) {
        const gain = best - sum;
        parameters = tried;
        best = sum;
        damping /= DAMPING_DOWN;
        if (small === true || gain <= STEP_TOLERANCE * STEP_TOLERANCE * best)
          return converged(problem, parameters, best, iteration);
        break;
      }
      if (small === true) return converged(problem, parameters, best, iteration);
      damping *= DAMPING_UP;
      if (damping > LARGEST_DAMPING)
        return step === undefined
          ? { converged: false, reason: 'singular' }
          : converged(problem, parameters, best, iteration);
    }
  }
  return { converged: false, reason: 'iterations' };
}

function converged(
  problem: NormalEquations,
  parameters: Float64Array,
  residualSumOfSquares: number,
  iterations: number,
): FitOutcome {
  const inverse = problem.inverseDiagonal(parameters);
  if (inverse === undefined) return { converged: false, reason: 'singular' };
  const variance = residualSumOfSquares / (problem.pointCount - parameters.length);
  const standardErrors = inverse.map((value) => Math.sqrt(variance * value));
  return { converged: true, parameters, standardErrors, residualSumOfSquares, iterations };
}
