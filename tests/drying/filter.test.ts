import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Belief,
  followWander,
  localCovariance,
  newBelief,
  recentre,
} from '../../src/drying/filter/belief.js';
import { assignLocal, scalarUpdate } from '../../src/drying/filter/scalar-update.js';
import { type SharedComponent, SharedState } from '../../src/drying/filter/shared-state.js';

const component = (name: string, change: Partial<SharedComponent> = {}): SharedComponent => ({
  name,
  priorMean: 0,
  priorSd: 1,
  wanderVarPerH: 0,
  ...change,
});

describe('scalarUpdate()', () => {
  it('gives the estimates and variances of the constant-state example (kalmanfilter.net data)', () => {
    const shared = new SharedState();
    const links = new Int32Array(0);
    const belief = newBelief(1, links, shared);
    belief.mean[0] = 60;
    belief.covariance[0] = 225;
    const seen = [48.54, 47.11, 55.01, 55.15, 49.89, 40.85, 46.72, 50.05, 51.27, 49.95];
    const estimates = [49.69, 48.47, 50.57, 51.68, 51.33, 49.62, 49.21, 49.31, 49.53, 49.57];
    const variances = [22.5, 11.84, 8.04, 6.08, 4.89, 4.09, 3.52, 3.08, 2.74, 2.47];
    seen.forEach((value, i) => {
      scalarUpdate(
        belief,
        links,
        shared,
        {
          innovation: value - (belief.mean[0] ?? 0),
          localSlope: Float64Array.of(1),
          noiseVariance: 25,
        },
        true,
      );
      expect(belief.mean[0]).toBeCloseTo(estimates[i] ?? Number.NaN, 1.99);
      expect(belief.covariance[0]).toBeCloseTo(variances[i] ?? Number.NaN, 1.99);
    });
  });

  it('is the joint Kalman filter of all trays and what they share, to rounding', () => {
    const observation = fc.record({
      tray: fc.integer({ min: 0, max: 2 }),
      local: fc.float({ min: -2, max: 2, noNaN: true }),
      first: fc.float({ min: -2, max: 2, noNaN: true }),
      second: fc.float({ min: -2, max: 2, noNaN: true }),
      value: fc.float({ min: -3, max: 3, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(observation, { minLength: 1, maxLength: 12 }), (observations) => {
        const shared = new SharedState();
        const links = Int32Array.of(shared.ensure(component('a')), shared.ensure(component('b')));
        const trays = [0, 1, 2].map((): Belief => {
          const belief = newBelief(1, links, shared);
          belief.covariance[0] = 0.5;
          belief.onShared.set([0.7, -0.4]);
          return belief;
        });
        const dense = denseFilter();
        for (const { tray, local, first, second, value } of observations) {
          const belief = trays[tray];
          if (belief === undefined) continue;
          recentre(belief, links, shared);
          const expected =
            local * (belief.mean[0] ?? 0) +
            first * (belief.centre[0] ?? 0) +
            second * (belief.centre[1] ?? 0);
          scalarUpdate(
            belief,
            links,
            shared,
            {
              innovation: value - expected,
              localSlope: Float64Array.of(local),
              sharedSlope: Float64Array.of(first, second),
              noiseVariance: 0.3,
            },
            true,
          );
          const slope = [first, second, 0, 0, 0];
          slope[2 + tray] = local;
          dense.update(slope, value, 0.3);
        }
        trays.forEach((belief, i) => {
          recentre(belief, links, shared);
          expect(belief.mean[0]).toBeCloseTo(dense.mean[2 + i] ?? Number.NaN, 6);
          expect(localCovariance(belief, links, shared, 0, 0)).toBeCloseTo(
            dense.covariance[2 + i]?.[2 + i] ?? Number.NaN,
            6,
          );
        });
      }),
    );
  });
});

/** Plain joint filter over two shared components and three trays, as the textbook writes it. */
function denseFilter() {
  const sharedRows = [
    [1, 0],
    [0, 1],
  ];
  const trayRow = [0.7, -0.4];
  const rows = [...sharedRows, trayRow, trayRow, trayRow];
  const covariance = rows.map((left, i) =>
    rows.map(
      (right, j) =>
        left.reduce((sum, value, k) => sum + value * (right[k] ?? 0), 0) + (i === j && i >= 2 ? 0.5 : 0),
    ),
  );
  const mean = rows.map(() => 0);
  return {
    mean,
    covariance,
    update: (slope: readonly number[], value: number, noiseVariance: number): void => {
      const gain = covariance.map((row) => row.reduce((sum, c, j) => sum + c * (slope[j] ?? 0), 0));
      const variance = slope.reduce((sum, s, i) => sum + s * (gain[i] ?? 0), noiseVariance);
      const miss = value - slope.reduce((sum, s, i) => sum + s * (mean[i] ?? 0), 0);
      gain.forEach((g, i) => {
        mean[i] = (mean[i] ?? 0) + (g / variance) * miss;
        const row = covariance[i];
        for (let j = 0; row !== undefined && j < gain.length; j++)
          row[j] = (row[j] ?? 0) - (g * (gain[j] ?? 0)) / variance;
      });
    },
  };
}

describe('SharedState.wander()', () => {
  it('keeps a remembered component’s prior width, and a tray’s own uncertainty grows by what was forgotten', () => {
    const shared = new SharedState();
    const links = Int32Array.of(shared.ensure(component('sky', { priorSd: 0.4, memoryH: 8 })));
    const belief = newBelief(1, links, shared);
    belief.onShared[0] = 0.5;
    const before = localCovariance(belief, links, shared, 0, 0);
    for (let i = 0; i < 100; i++) followWander(belief, links, shared, shared.wander(1));
    expect(shared.varianceOf(0)).toBeCloseTo(0.16, 9);
    expect(localCovariance(belief, links, shared, 0, 0)).toBeCloseTo(before, 6);
    expect(Math.abs(belief.onShared[0] ?? 1)).toBeLessThan(0.001);
  });
});

describe('assignLocal()', () => {
  it('sets a component to a function of the others, with their covariance', () => {
    const shared = new SharedState();
    const links = new Int32Array(0);
    const belief = newBelief(2, links, shared);
    belief.mean.set([0.3, 0.6]);
    belief.covariance.set([0.01, 0, 0, 0.0004]);
    assignLocal(belief, 0, 0, Float64Array.of(0, 1), -0.01, 0.0001);
    expect(belief.mean[0]).toBeCloseTo(0.59, 12);
    expect(belief.covariance[0]).toBeCloseTo(0.0005, 12);
    expect(belief.covariance[1]).toBeCloseTo(0.0004, 12);
  });
});
