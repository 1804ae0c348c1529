import { describe, expect, it } from 'vitest';
import { grossRangeFlag } from '../../src/sensing/quality/gross-range.js';

/**
 * Vectors of ioos_qc, tests/test_qartod.py at commit 9c1853a (IOOS QARTOD manuals): flags must be met exactly. The other tests of
 * the manuals look ahead or judge whole series; what stands in their place for a stream is tested in tests/sensing.
 */
describe('gross range', () => {
  it('meets the vector with fail (10, 50) and suspect (20, 40); endpoints pass', () => {
    const range = { fail: { low: 10, high: 50 }, suspect: { low: 20, high: 40 } };
    expect([5, 10, 15, 20, 25, 30, 35, 40, 45, 51].map((value) => grossRangeFlag(value, range))).toEqual([
      4, 3, 3, 1, 1, 1, 1, 1, 3, 4,
    ]);
    expect([undefined, Number.NaN].map((value) => grossRangeFlag(value, range))).toEqual([9, 9]);
  });

  it('meets the example of the documentation', () => {
    const range = { fail: { low: 0, high: 5 }, suspect: { low: 1, high: 4 } };
    expect([1, 2, 3, 4, 8].map((value) => grossRangeFlag(value, range))).toEqual([1, 1, 1, 1, 4]);
  });
});
