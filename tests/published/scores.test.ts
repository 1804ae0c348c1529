import { describe, expect, it } from 'vitest';
import { normalCdf, normalQuantile } from '../../src/numbers/normal.js';
import { pinball } from '../benchmark/score.js';
import { comparisonsOf } from './comparison.js';

const compare = comparisonsOf('scores');

function meanPinball(outcomes: readonly number[], forecasts: readonly number[], probability: number): number {
  const losses = outcomes.map((y, i) => pinball(probability, y, forecasts[i] ?? 0));
  return losses.reduce((sum, loss) => sum + loss, 0) / losses.length;
}

describe('pinball() of the benchmark', () => {
  it('meets the worked example of a forecasting library', () => {
    const y = [3, -0.5, 2, 7, 2];
    const low = meanPinball(y, [1.25, 0, 1, 4, 0.625], 0.05);
    const middle = meanPinball(y, [2.5, 0, 2, 8, 1.25], 0.5);
    const high = meanPinball(y, [3.75, 0, 3, 12, 1.875], 0.95);
    compare('pinball', low, 0.16625);
    compare('pinball', middle, 0.275);
    compare('pinball', high, 0.09625);
    compare('pinball', (low + middle + high) / 3, 0.1791667);
  });

  it('meets the short examples', () => {
    compare('pinball', meanPinball([1, 2, 3], [0, 2, 3], 0.1), 0.1 / 3);
    compare('pinball', meanPinball([1, 2, 3], [1, 2, 4], 0.1), 0.3);
    compare('pinball', meanPinball([1, 2, 3], [0, 2, 3], 0.9), 0.3);
    compare('pinball', meanPinball([1, 2, 3], [1, 2, 4], 0.9), 0.1 / 3);
  });
});

describe('normal distribution', () => {
  it('normalCdf() meets the table of the normal distribution', () => {
    compare('normal distribution', normalCdf(0), 0.5);
    compare('normal distribution', normalCdf(1.6448536269514722), 0.95);
    compare('normal distribution', normalCdf(-1.2815515655446004), 0.1);
    compare('normal distribution', normalCdf(3), 0.9986501019683699);
    compare('normal distribution', normalQuantile(0.95), 1.6448536269514722);
    compare('normal distribution', normalQuantile(0.001), -3.090232306167813);
    for (let p = 0.002; p < 1; p += 0.002) expect(normalCdf(normalQuantile(p))).toBeCloseTo(p, 10);
    expect(normalCdf(-9)).toBe(0);
    expect(normalCdf(9)).toBe(1);
  });
});
