import fc from 'fast-check';
import { medianSorted, quantileSorted } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { curveBand } from '../../../src/drying/curves/curve-band.js';
import { hoursEstimate, survivalCurve } from '../../../src/numbers/kaplan-meier.js';
import { quantile } from '../../../src/numbers/quantile.js';
import { straightDryDown } from '../helpers/sample-dry-downs.js';

/** Agreement with a reference library: nothing but rounding. */
const ROUNDING = 1e-12;

const finite = fc.double({ min: -1e6, max: 1e6, noNaN: true });

describe('quantile()', () => {
  it('is what simple-statistics computes (type 7), for any numbers', () => {
    fc.assert(
      fc.property(
        fc.array(finite, { minLength: 1, maxLength: 40 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (values, p) => {
          const sorted = [...values].sort((a, b) => a - b);
          const scale = Math.max(1, ...values.map(Math.abs));
          expect(Math.abs(quantile(values, p) - quantileSorted(sorted, p)) / scale).toBeLessThan(ROUNDING);
        },
      ),
    );
  });

  it('refuses an empty list and a probability outside 0 to 1', () => {
    expect(() => quantile([], 0.5)).toThrow(RangeError);
    expect(() => quantile([1], 1.1)).toThrow(RangeError);
    expect(() => quantile([1], Number.NaN)).toThrow(RangeError);
  });
});

describe('survivalCurve()', () => {
  /**
   * Remission times in weeks under 6-MP: Freireich et al. 1963 (Blood 21:699), the worked example of Kleinbaum & Klein,
   * Survival Analysis, ch. 2; data and results from memory, the products are worked out beside each.
   */
  const remissions = [6, 6, 6, 7, 10, 13, 16, 22, 23].map((hours) => ({ hours, reached: true }));
  const brokenOff = [6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35].map((hours) => ({
    hours,
    reached: false,
  }));
  const curve = survivalCurve([...remissions, ...brokenOff]);

  it.each([
    [6, 21, 18 / 21],
    [7, 17, (18 / 21) * (16 / 17)],
    [10, 15, 0.7529],
    [13, 12, 0.6902],
    [16, 11, 0.6275],
    [22, 7, 0.5378],
    [23, 6, 0.4482],
  ])('gives the published estimate at %i weeks', (hours, atRisk, survival) => {
    const step = curve.find((one) => one.hours === hours);
    expect(step?.atRisk).toBe(atRisk);
    expect(step?.survival).toBeCloseTo(survival, 4);
  });

  it('gives the published median of 23 weeks, and the 95 % interval from 13 on of the log-log method', () => {
    const at95 = survivalCurve([...remissions, ...brokenOff], 1.959963984540054);
    expect(hoursEstimate(at95, 0.5)).toEqual({ hours: 23, lowHours: 13, highHours: null });
  });

  it('is the plain share still to come when nothing was broken off', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 50 }), { minLength: 1, maxLength: 30 }), (times) => {
        for (const { hours, survival } of survivalCurve(times.map((t) => ({ hours: t, reached: true }))))
          expect(survival).toBeCloseTo(times.filter((t) => t > hours).length / times.length, 9);
      }),
    );
  });

  it('makes nothing up when every dry-down was watered first', () => {
    expect(hoursEstimate(survivalCurve(brokenOff), 0.1)).toEqual({
      hours: null,
      lowHours: null,
      highHours: null,
    });
  });

  it('lies above the estimate that takes broken off times for reached ones', () => {
    const naive = medianSorted([...remissions, ...brokenOff].map(({ hours }) => hours).sort((a, b) => a - b));
    expect(hoursEstimate(curve, 0.5).hours).toBeGreaterThan(naive);
  });
});

describe('curveBand()', () => {
  const falls = [0.01, 0.02, 0.03, 0.04, 0.05];
  const five = falls.map((fall) => straightDryDown(6, fall));

  it('is the hand-computed band of five straight curves', () => {
    const band = curveBand(five, 2);
    expect(band.map(({ elapsedH }) => elapsedH)).toEqual([0, 2, 4, 6]);
    // After 4 h: 0.56, 0.52, 0.48, 0.44, 0.40; median 0.48, tenths 0.4 of a gap from the ends: 0.416 and 0.544.
    expect(band[2]?.p50M3PerM3).toBeCloseTo(0.48, 12);
    expect(band[2]?.p10M3PerM3).toBeCloseTo(0.416, 12);
    expect(band[2]?.p90M3PerM3).toBeCloseTo(0.544, 12);
    expect(band[2]?.curveCount).toBe(5);
  });

  it('agrees with simple-statistics between samples, at every step', () => {
    for (const { elapsedH, p10M3PerM3, p50M3PerM3, p90M3PerM3 } of curveBand(five, 0.7)) {
      const values = falls.map((fall) => 0.6 - fall * elapsedH).sort((a, b) => a - b);
      expect(Math.abs((p10M3PerM3 ?? 0) - quantileSorted(values, 0.1))).toBeLessThan(ROUNDING);
      expect(Math.abs(p50M3PerM3 - medianSorted(values))).toBeLessThan(ROUNDING);
      expect(Math.abs(p90M3PerM3 - quantileSorted(values, 0.9))).toBeLessThan(ROUNDING);
    }
  });

  it('says how many curves are still drying, and ends where fewer than three are', () => {
    const lasts = [8, 8, 9, 10, 12].map((hours) => straightDryDown(hours, 0.02));
    const band = curveBand(lasts, 1);
    expect(band.map(({ curveCount }) => curveCount)).toEqual([5, 5, 5, 5, 5, 5, 5, 5, 5, 3]);
  });

  it('keeps the driest in their place when they are watered: the slow ones do not pass for all', () => {
    // The two fast ones are watered at 0.4; of ten the three slowest alone would stand at 0.5 and more.
    const fast = [0.04, 0.04].map((fall) => straightDryDown(5, fall));
    const slow = [0.01, 0.011, 0.012].map((fall) => straightDryDown(20, fall));
    const band = curveBand([...fast, ...slow], 1);
    // Two of five lie below: the middle one is the fastest of the slow.
    expect(band[10]?.p50M3PerM3).toBeCloseTo(0.6 - 0.12, 12);
    expect(band[10]).toMatchObject({ p10M3PerM3: null, curveCount: 3 });
  });

  it('ends where the middle one was watered', () => {
    const fast = [3, 3, 3, 3].map((hours) => straightDryDown(hours, 0.06));
    const slow = [9, 9, 9].map((hours) => straightDryDown(hours, 0.01));
    expect(curveBand([...fast, ...slow], 1).at(-1)?.elapsedH).toBe(3);
  });

  it('never rises while every curve falls, however they were broken off', () => {
    const anyFall = fc.record({
      fall: fc.double({ min: 0.002, max: 0.05, noNaN: true }),
      lastsH: fc.integer({ min: 2, max: 12 }),
    });
    fc.assert(
      fc.property(fc.array(anyFall, { minLength: 3, maxLength: 25 }), (falls) => {
        const band = curveBand(
          falls.map(({ fall, lastsH }) => straightDryDown(lastsH, fall)),
          1,
        );
        for (const [i, point] of band.entries()) {
          const before = band[i - 1] ?? point;
          for (const key of ['p10M3PerM3', 'p50M3PerM3', 'p90M3PerM3'] as const)
            expect(point[key] ?? 0).toBeLessThanOrEqual((before[key] ?? 0) + ROUNDING);
        }
      }),
    );
  });

  it('is empty for fewer than three curves', () => {
    expect(curveBand(five.slice(0, 2), 1)).toEqual([]);
  });
});
