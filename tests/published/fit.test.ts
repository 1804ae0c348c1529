import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import { describe, expect, it } from 'vitest';
import { fitLeastSquares } from '../../src/numbers/fit/least-squares.js';
import type { Model } from '../../src/numbers/fit/normal-equations.js';
import { comparisonsOf } from './comparison.js';

const compare = comparisonsOf('fit');

interface CertifiedFit {
  readonly name: string;
  readonly model: Model;
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly starts: readonly (readonly number[])[];
  readonly parameters: readonly number[];
  readonly standardErrors?: readonly number[];
  readonly residualSumOfSquares: number;
}

const at = (b: Float64Array, i: number): number => b[i] ?? Number.NaN;
const exponential: Model = (x, b) => at(b, 0) * (1 - Math.exp(-at(b, 1) * x));
const MISRA_X = [
  77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0,
];
const MISRA_Y = [
  10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47, 81.78,
];

/** NIST Statistical Reference Datasets, nonlinear regression; both given starts each, "hard" ones included. */
const NIST: readonly CertifiedFit[] = [
  {
    name: 'Misra1a',
    model: exponential,
    x: MISRA_X,
    y: MISRA_Y,
    starts: [
      [500, 1e-4],
      [250, 5e-4],
    ],
    parameters: [2.3894212918e2, 5.5015643181e-4],
    standardErrors: [2.7070075241, 7.2668688436e-6],
    residualSumOfSquares: 1.2455138894e-1,
  },
  {
    name: 'BoxBOD',
    model: exponential,
    x: [1, 2, 3, 5, 7, 10],
    y: [109, 149, 149, 191, 213, 224],
    starts: [
      [1, 1],
      [100, 0.75],
    ],
    parameters: [2.1380940889e2, 5.4723748542e-1],
    residualSumOfSquares: 1.1680088766e3,
  },
  {
    name: 'Misra1b',
    model: (x, b) => at(b, 0) * (1 - (1 + (at(b, 1) * x) / 2) ** -2),
    x: MISRA_X,
    y: MISRA_Y,
    starts: [
      [500, 1e-4],
      [300, 2e-4],
    ],
    parameters: [3.3799746163e2, 3.9039091287e-4],
    residualSumOfSquares: 7.5464681533e-2,
  },
  {
    name: 'DanWood',
    model: (x, b) => at(b, 0) * x ** at(b, 1),
    x: [1.309, 1.471, 1.49, 1.565, 1.611, 1.68],
    y: [2.138, 3.421, 3.597, 4.34, 4.882, 5.66],
    starts: [
      [1, 5],
      [0.7, 4],
    ],
    parameters: [0.76886226176, 3.8604055871],
    residualSumOfSquares: 4.3173084083e-3,
  },
  {
    name: 'Rat42',
    model: (x, b) => at(b, 0) / (1 + Math.exp(at(b, 1) - at(b, 2) * x)),
    x: [9, 14, 21, 28, 42, 57, 63, 70, 79],
    y: [8.93, 10.8, 18.59, 22.33, 39.35, 56.11, 61.73, 64.62, 67.08],
    starts: [
      [100, 1, 0.1],
      [75, 2.5, 0.07],
    ],
    parameters: [72.462237576, 2.6180768402, 0.067359200066],
    residualSumOfSquares: 8.0565229338,
  },
];

describe('fitLeastSquares()', () => {
  it.each(NIST)('meets the certified values of $name from both starts', (set) => {
    for (const start of set.starts) {
      const fit = fitLeastSquares(set.model, set.x, set.y, start);
      if (!fit.converged) throw new Error(`${set.name} from ${start.join(', ')}: ${fit.reason}`);
      set.parameters.forEach((value, i) => {
        compare('certified parameters, share', at(fit.parameters, i), value);
      });
      set.standardErrors?.forEach((value, i) => {
        compare('certified standard errors, share', at(fit.standardErrors, i), value);
      });
      compare('certified residual sum of squares, share', fit.residualSumOfSquares, set.residualSumOfSquares);
    }
  });

  it('agrees with an independent implementation where that one converges', () => {
    for (const { model, x, y, starts } of NIST.filter(({ parameters }) => parameters.length === 2)) {
      const start = starts[1] ?? [];
      const fit = fitLeastSquares(model, x, y, start);
      if (!fit.converged) throw new Error(fit.reason);
      const other = levenbergMarquardt(
        { x: [...x], y: [...y] },
        (b) => (t: number) => model(t, Float64Array.from(b)),
        {
          initialValues: [...start],
          damping: 0.01,
          gradientDifference: 1e-6,
          centralDifference: true,
          maxIterations: 2000,
          errorTolerance: 0,
        },
      );
      other.parameterValues.forEach((value, i) => {
        compare('ml-levenberg-marquardt, share', at(fit.parameters, i), value);
      });
    }
  });

  it('says so when a parameter does not matter, or the model gives no number', () => {
    expect(fitLeastSquares((x, b) => at(b, 0) * x + 0 * at(b, 1), [1, 2, 3], [1, 2, 3.1], [1, 1])).toEqual({
      converged: false,
      reason: 'singular',
    });
    expect(fitLeastSquares(() => Number.NaN, [1, 2, 3], [1, 2, 3], [1])).toEqual({
      converged: false,
      reason: 'not-a-number',
    });
    expect(() => fitLeastSquares(exponential, [1], [1], [1, 1])).toThrow(RangeError);
  });
});
