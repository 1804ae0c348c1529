import { describe, expect, it } from 'vitest';
import { attenuatedSignalTest } from '../../src/sensing/quality/attenuated-signal.js';
import { type ClimatologyWindow, climatologyTest } from '../../src/sensing/quality/climatology.js';
import { flatLineTest } from '../../src/sensing/quality/flat-line.js';
import { gapFlag } from '../../src/sensing/quality/gap.js';
import { grossRangeTest } from '../../src/sensing/quality/gross-range.js';
import { combineFlags, type Series } from '../../src/sensing/quality/qartod.js';
import { rateOfChangeTest } from '../../src/sensing/quality/rate-of-change.js';
import { spikeTest } from '../../src/sensing/quality/spike.js';

/**
 * Vectors of ioos_qc, tests/test_qartod.py at commit 9c1853a (IOOS QARTOD manuals): flags must be met exactly.
 * `_` is a missing value.
 */
const _ = undefined;
const QUARTER_H_MS = 15 * 60_000;
const DAY_MS = 86_400_000;

function every(stepMs: number, values: Series): number[] {
  return values.map((_value, i) => i * stepMs);
}

describe('gross range', () => {
  it('meets the vector with fail (10, 50) and suspect (20, 40); endpoints pass', () => {
    const range = { fail: { low: 10, high: 50 }, suspect: { low: 20, high: 40 } };
    expect(grossRangeTest([5, 10, 15, 20, 25, 30, 35, 40, 45, 51], range)).toEqual([
      4, 3, 3, 1, 1, 1, 1, 1, 3, 4,
    ]);
    expect(grossRangeTest([_, Number.NaN], range)).toEqual([9, 9]);
  });

  it('meets the example of the documentation', () => {
    const range = { fail: { low: 0, high: 5 }, suspect: { low: 1, high: 4 } };
    expect(grossRangeTest([1, 2, 3, 4, 8], range)).toEqual([1, 1, 1, 1, 4]);
  });
});

describe('spike', () => {
  it('meets the vector with limits 25 and 50, with and without gaps', () => {
    const limits = { suspect: 25, fail: 50 };
    expect(spikeTest([10, 12, 999.99, 13, 15, 40, 9, 9], limits)).toEqual([2, 4, 4, 4, 1, 3, 1, 2]);
    expect(spikeTest([10, 12, 999.99, 13, 15, 40, 9, 9, _, 10, 10, 999.99, 10, _], limits)).toEqual([
      2, 4, 4, 4, 1, 3, 1, 2, 9, 2, 4, 4, 2, 9,
    ]);
  });

  it('meets the vectors of the average and the differential method', () => {
    const values = [3, 4.99, 5, 6, 8, 6, 6, 6.75, 6, 6, 5.3, 6, 6, 9, 5, _, 4, 4];
    const limits = { suspect: 0.5, fail: 1 };
    expect(spikeTest(values, limits, 'average')).toEqual([
      2, 3, 1, 1, 4, 3, 1, 3, 1, 1, 3, 1, 4, 4, 2, 9, 2, 2,
    ]);
    expect(spikeTest(values, limits, 'differential')).toEqual([
      2, 1, 1, 1, 4, 1, 1, 3, 1, 1, 3, 1, 1, 4, 2, 9, 2, 2,
    ]);
  });
});

describe('rate of change', () => {
  const limits = { suspectPerS: 5 / 15 / 60 };
  const values = [2, 10, 2.1, 3, 4, 5, 7, 10, 0, 2, 2.2, 2, 1, 2, 3, 90, 91, 92, 93, 1, 2, 3, 4, 5];

  it('meets the quarter-hour vector', () => {
    expect(rateOfChangeTest(values, every(QUARTER_H_MS, values), limits)).toEqual([
      1, 3, 3, 1, 1, 1, 1, 1, 3, 1, 1, 1, 1, 1, 1, 3, 1, 1, 1, 3, 1, 1, 1, 1,
    ]);
  });

  it('fails beyond the second limit', () => {
    const both = { ...limits, failPerS: 10 / 15 / 60 };
    const flags = rateOfChangeTest(values, every(QUARTER_H_MS, values), both);
    expect([8, 15, 19].map((i) => flags[i])).toEqual([4, 4, 4]);
    expect(flags.filter((flag) => flag === 4)).toHaveLength(3);
  });

  it('meets the negative vector and the one with gaps', () => {
    const negative = [-2, -10, -2, -3];
    expect(rateOfChangeTest(negative, every(QUARTER_H_MS, negative), limits)).toEqual([1, 3, 3, 1]);
    const gaps = [2, 10, 2, 3, _, _, 7, 10];
    expect(rateOfChangeTest(gaps, every(QUARTER_H_MS, gaps), limits)).toEqual([1, 3, 3, 1, 9, 9, 1, 1]);
  });
});

describe('flat line', () => {
  const limits = { suspectS: 3000, failS: 4800, tolerance: 0.01 };

  it('meets the quarter-hour vectors, with and without gaps', () => {
    const values = [1, 2, 2.0001, 2, 2.0001, 2, 2.0001, 2, 4, 5, 3, 3.0001, 3.0005, 3.00001];
    expect(flatLineTest(values, every(QUARTER_H_MS, values), limits)).toEqual([
      1, 1, 1, 1, 3, 3, 4, 4, 1, 1, 1, 1, 1, 3,
    ]);
    const gaps = [1, _, _, 2, 2.0001, 2, 2.0001, 2, 4, _, 3, _, _, 3.00001];
    expect(flatLineTest(gaps, every(QUARTER_H_MS, gaps), limits)).toEqual([
      1, 9, 9, 1, 3, 3, 4, 4, 1, 9, 1, 9, 9, 3,
    ]);
  });

  it('meets the short vectors', () => {
    const same = [5, 5, 5, 5, 5, 5];
    expect(flatLineTest(same, every(1000, same), { suspectS: 3, failS: 5, tolerance: 0.1 })).toEqual([
      1, 1, 1, 3, 3, 4,
    ]);
    const steps = [1, 1, 1, 1, 1, 6, 5, 4, 3, 2];
    expect(flatLineTest(steps, every(1000, steps), { suspectS: 3, failS: 6, tolerance: 4 })).toEqual([
      1, 1, 1, 3, 3, 1, 1, 1, 3, 3,
    ]);
    expect(flatLineTest([5, 5], [0, 1000], { suspectS: 0, failS: 1, tolerance: 1 })).toEqual([1, 1]);
  });
});

describe('attenuated signal', () => {
  const whole = (values: Series, suspect: number, fail: number, statistic: 'standard-deviation' | 'range') =>
    attenuatedSignalTest(values, every(DAY_MS, values), { suspect, fail, statistic });

  it('meets the whole-series vectors', () => {
    expect(whole([1, 2, 3, 4], 0.75, 0.5, 'standard-deviation')).toEqual([1, 1, 1, 1]);
    expect(whole([1, 1, 1, 1], 10, 8, 'standard-deviation')).toEqual([4, 4, 4, 4]);
    expect(whole([10, 20, 30, 40], 50, 31, 'range')).toEqual([4, 4, 4, 4]);
    expect(whole([10, 20, 30, 40], 31, 10, 'range')).toEqual([3, 3, 3, 3]);
  });

  it('meets the windowed vectors', () => {
    const window = { statistic: 'range', windowS: 2 * 86_400, fewestReadings: 2 } as const;
    const days = every(DAY_MS, [0, 1, 2, 3, 4]);
    expect(attenuatedSignalTest([1, 2, 3, 100, 1000], days, { suspect: 100, fail: 10, ...window })).toEqual([
      2, 4, 4, 3, 1,
    ]);
    expect(attenuatedSignalTest([1, _, 10, 100, 1000], days, { suspect: 100, fail: 50, ...window })).toEqual([
      2, 9, 2, 3, 1,
    ]);
  });
});

describe('climatology', () => {
  const day = (text: string) => Date.parse(`${text}T00:00:00Z`);

  it('meets the vector of three windows', () => {
    const windows: ClimatologyWindow[] = [
      { fromMs: day('2011-01-01'), toMs: day('2011-07-01'), usual: { low: 10, high: 20 } },
      { fromMs: day('2011-07-01'), toMs: day('2012-01-01'), usual: { low: 30, high: 40 } },
      { fromMs: day('2012-01-01'), toMs: day('2013-01-01'), usual: { low: 40, high: 50 } },
    ];
    const times = ['2011-01-02', '2011-01-02', '2011-01-02', '2015-01-02'].map(day);
    expect(climatologyTest([9, 11, 21, 21], times, windows)).toEqual([3, 1, 3, 2]);
  });

  const winter: ClimatologyWindow = {
    fromMs: day('2019-11-01'),
    toMs: day('2020-02-04'),
    usual: { low: 50, high: 60 },
    possible: { low: 40, high: 70 },
    level: { low: 0, high: 10 },
  };

  it('meets the vectors of the edges of time, value and level', () => {
    const edges = ['2019-10-31', '2019-11-01', '2020-02-04', '2020-02-05'].map(day);
    expect(climatologyTest([55, 55, 55, 55], edges, [winter], [5, 5, 5, 5])).toEqual([2, 1, 1, 2]);
    const values = [30, 40, 49, 50, 60, 61, 70, 71];
    const midwinter = values.map(() => day('2020-01-01'));
    const fives = values.map(() => 5);
    expect(climatologyTest(values, midwinter, [winter], fives)).toEqual([4, 3, 3, 1, 1, 3, 3, 4]);
    expect(climatologyTest([55, 55, 55, 55], midwinter.slice(0, 4), [winter], [-1, 0, 10, 11])).toEqual([
      2, 1, 1, 2,
    ]);
    expect(climatologyTest([_], [day('2020-01-01')], [winter], [5])).toEqual([9]);
  });
});

describe('combination and gap', () => {
  it('combineFlags() meets the vector of three tests', () => {
    expect(
      combineFlags([
        [1, 1, 1, 9, 1, 1, 9, 9],
        [2, 1, 1, 1, 1, 1, 9, 9],
        [1, 3, 3, 4, 3, 1, 2, 9],
      ]),
    ).toEqual([1, 3, 3, 4, 3, 1, 2, 9]);
  });

  it('gapFlag() passes within the window and fails beyond it', () => {
    expect(gapFlag(0, 3_000_000, 3600)).toBe(1);
    expect(gapFlag(0, 7_200_000, 3600)).toBe(4);
    expect(gapFlag(undefined, 0, 3600)).toBe(9);
  });
});
