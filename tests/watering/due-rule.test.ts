import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canWaitUntil, judgeDue } from '../../src/watering/rounds/due-rule.js';
import { expectedLossShare, meanDryWithin, tenthDryWithin } from '../../src/watering/trays/tray-risk.js';
import { forecast, HOUR, MIDNIGHT } from './helpers.js';

const hours = fc.double({ min: 0.5, max: 110, noNaN: true });
const spread = fc.double({ min: 0.05, max: 0.8, noNaN: true });

describe('judgeDue()', () => {
  it('lists a tray whose driest tenth will not last, at the risk, until the round after the coming one', () => {
    expect(judgeDue(forecast('t1', MIDNIGHT, 12), 12.25, 10).due).toBe(true);
    expect(judgeDue(forecast('t1', MIDNIGHT, 40), 12.25, 10).due).toBe(false);
  });

  it('once due, stays due when the tray dries sooner (hours scaled down)', () => {
    fc.assert(
      fc.property(hours, spread, fc.double({ min: 0.3, max: 1, noNaN: true }), (median, width, factor) => {
        if (!judgeDue(forecast('t1', MIDNIGHT, median, { spread: width }), 12, 10).due) return;
        expect(judgeDue(forecast('t1', MIDNIGHT, median * factor, { spread: width }), 12, 10).due).toBe(true);
      }),
    );
  });

  it('a lower risk never lists fewer trays', () => {
    fc.assert(
      fc.property(hours, spread, fc.double({ min: 1, max: 50, noNaN: true }), (median, width, riskPct) => {
        const one = forecast('t1', MIDNIGHT, median, { spread: width });
        if (judgeDue(one, 12, riskPct).due) expect(judgeDue(one, 12, riskPct / 2).due).toBe(true);
      }),
    );
  });

  it('tolerates more risk where the tray would most likely have lasted far longer', () => {
    const wide = forecast('t1', MIDNIGHT, 34, { spread: 0.7 });
    const judged = judgeDue(wide, 12.25, 10);
    expect(judged.risk).toBeGreaterThan(0.1);
    expect(judged.tooEarly).toBeGreaterThan(0.5);
    expect(judged.due).toBe(false);
  });
});

describe('canWaitUntil()', () => {
  const rounds = [7, 18, 31, 42, 55].map((hour) => MIDNIGHT + hour * HOUR);
  const nowMs = MIDNIGHT + 5.75 * HOUR;

  it('names the last round that the tray can wait for', () => {
    expect(canWaitUntil(forecast('t1', nowMs, 12), rounds, nowMs, 10)).toBeUndefined();
    expect(canWaitUntil(forecast('t1', nowMs, 30), rounds, nowMs, 10)).toBe(MIDNIGHT + 18 * HOUR);
    expect(canWaitUntil(forecast('t1', nowMs, 500), rounds, nowMs, 10)).toBe(MIDNIGHT + 42 * HOUR);
  });
});

describe('expectedLossShare()', () => {
  it('lies between nothing and half the tray, and grows with the hours waited', () => {
    fc.assert(
      fc.property(hours, spread, fc.double({ min: 0, max: 60, noNaN: true }), (median, width, wait) => {
        const one = forecast('t1', MIDNIGHT, median, { spread: width });
        const loss = expectedLossShare(one, wait);
        expect(loss).toBeGreaterThanOrEqual(0);
        expect(loss).toBeLessThanOrEqual(0.5 + 1e-12);
        expect(expectedLossShare(one, wait + 1)).toBeGreaterThanOrEqual(loss);
      }),
    );
  });
});

describe('a doubted cover', () => {
  it('only ever raises the probability of being dry, up to that of bare blocks', () => {
    fc.assert(
      fc.property(hours, fc.double({ min: 0, max: 0.5, noNaN: true }), (median, probability) => {
        const one = forecast('t1', MIDNIGHT, median, { basis: 'shared', uncoveredMedianH: 12 });
        for (const ask of [tenthDryWithin, meanDryWithin])
          expect(ask(one, 14, probability)).toBeGreaterThanOrEqual(ask(one, 14));
      }),
    );
  });

  it('makes a mini under a dome that nobody confirmed due before a night', () => {
    const domed = forecast('t1', MIDNIGHT, 300, { basis: 'shared', waterContent: 0.5, uncoveredMedianH: 9 });
    expect(judgeDue(domed, 14.25, 10).due).toBe(false);
    expect(judgeDue(domed, 14.25, 10, 0.5).due).toBe(true);
  });
});
