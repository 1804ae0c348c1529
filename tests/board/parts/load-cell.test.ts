import { describe, expect, it } from 'vitest';
import { gramsOfCounts, withoutCreep } from '../../../src/board/parts/load-cell.js';

const creep = { share: 0.001, timeConstantMin: 20 };
const minuteMs = 60_000;

/** What a cell with this creep shows under a load that changes at minutes, sampled each minute. */
function shown(loads: readonly number[]): number[] {
  let creepG = 0;
  return loads.map((loadG) => {
    const value = loadG + creepG;
    creepG += (creep.share * loadG - creepG) * (1 - Math.exp(-1 / creep.timeConstantMin));
    return value;
  });
}

describe('scale', () => {
  it('gramsOfCounts() is 0 at the zero and follows either sign of the slope', () => {
    expect(gramsOfCounts(-12_000, { zeroCounts: -12_000, countsPerG: 420 })).toBe(0);
    expect(gramsOfCounts(-12_420, { zeroCounts: -12_000, countsPerG: -420 })).toBe(1);
  });

  it('withoutCreep() takes out the slow gain after a load, and the slow loss after it', () => {
    const loads = [
      ...Array<number>(90).fill(0),
      ...Array<number>(120).fill(3000),
      ...Array<number>(60).fill(0),
    ];
    let state: { creepG: number; atMs: number } | undefined;
    let worstRawG = 0;
    shown(loads).forEach((shownG, minute) => {
      const corrected = withoutCreep(shownG, minute * minuteMs, state, creep);
      state = corrected.state;
      worstRawG = Math.max(worstRawG, Math.abs(shownG - (loads[minute] ?? 0)));
      expect(Math.abs(corrected.loadG - (loads[minute] ?? 0))).toBeLessThan(0.2);
    });
    expect(worstRawG).toBeGreaterThan(2.8);
  });

  it('withoutCreep() takes the first reading for settled, and a clock that stands still for no time', () => {
    const first = withoutCreep(1001, 0, undefined, creep);
    expect(first.loadG).toBeCloseTo(1000, 6);
    expect(withoutCreep(1001, 0, first.state, creep).loadG).toBeCloseTo(1000, 6);
  });
});
