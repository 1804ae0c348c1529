import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fallAfter } from '../../src/drying/model/tray-forecast.js';
import { trayVolumeMl } from '../../src/drying/physics/tray-geometry.js';
import type { TrayNow } from '../../src/watering/desk/watering-desk.js';
import { channelsHoldMl, planDose } from '../../src/watering/rounds/pour-plan.js';
import { missingWaterMl } from '../../src/watering/trays/dose.js';
import { forecast, MIDNIGHT } from './helpers.js';

function tray(blockSideMm: number, blockCount: number, more: Partial<TrayNow> = {}): TrayNow {
  return {
    id: 't1',
    benchId: 'south',
    blockSideMm,
    blockCount,
    cover: 'none',
    startedAtMs: MIDNIGHT,
    hasProbe: true,
    ...more,
  };
}

/** Doses of whole trays for 0.30 m3/m3 missing, by dose = missing x volume: 0.58, 1.20, 1.89 L (the trade's 3/4, 1 1/2 and 2 in blocks). */
const wholeTrays = [
  [19.05, 280, 580],
  [38.1, 72, 1200],
  [50.8, 48, 1890],
] as const;

describe('missingWaterMl()', () => {
  it.each(wholeTrays)('%s mm blocks, %s of them, 0.30 missing: %s mL', (side, count, expectedMl) => {
    const now = { ...forecast('t1', MIDNIGHT, 0, { waterContent: 0.35 }), containerCapacityM3PerM3: 0.65 };
    expect(Math.abs(missingWaterMl(tray(side, count), now, 0, 1) - expectedMl)).toBeLessThan(6);
  });

  it('counts what will dry until the pour', () => {
    const now = forecast('t1', MIDNIGHT, 10, { waterContent: 0.47 });
    expect(fallAfter(now, 5)).toBeCloseTo(0.05, 3);
    expect(missingWaterMl(tray(19, 280), now, 5, 1)).toBeGreaterThan(
      missingWaterMl(tray(19, 280), now, 0, 1),
    );
  });

  it('is never negative, and nothing for blocks at container capacity', () => {
    expect(missingWaterMl(tray(19, 280), forecast('t1', MIDNIGHT, 10, { waterContent: 0.7 }), 0, 1)).toBe(0);
  });
});

describe('planDose()', () => {
  const two = { mostPours: 2, unit: 'mL' } as const;
  const anyTray = fc
    .record({
      side: fc.integer({ min: 10, max: 80 }),
      fill: fc.double({ min: 0.2, max: 0.9, noNaN: true }),
      lip: fc.option(fc.integer({ min: 3, max: 40 }), { nil: undefined }),
    })
    .map(({ side, fill, lip }) =>
      tray(side, Math.max(1, Math.floor((fill * 162_600) / side ** 2)), { channelDepthMm: lip }),
    );

  it('tells one amount: pours of one size that the channels hold, and what they leave out, come to the dose', () => {
    fc.assert(
      fc.property(
        anyTray,
        fc.double({ min: 0.1, max: 6000, noNaN: true }),
        fc.boolean(),
        fc.integer({ min: 1, max: 12 }),
        (one, missingMl, dry, mostPours) => {
          const { doseMl, pourPlan } = planDose(one, missingMl, dry, { mostPours, unit: 'mL' });
          if (pourPlan === undefined) throw new Error('a dose needs a plan');
          const { pours, pourMl, shortMl = 0 } = pourPlan;
          expect(pours).toBeLessThanOrEqual(mostPours);
          expect(pourMl).toBeLessThanOrEqual(channelsHoldMl(one) + 1e-9);
          expect(pours * pourMl + shortMl).toBeCloseTo(doseMl, 6);
          expect(doseMl).toBeGreaterThanOrEqual(missingMl - 1e-9);
          expect(doseMl).toBeLessThan(missingMl + 10 * mostPours + 10);
          if (shortMl > 0) expect(pours).toBe(mostPours);
        },
      ),
    );
  });

  it('a dry tray of 2 in blocks gets two pours with long soaks, and is told not to be full', () => {
    const { doseMl, pourPlan } = planDose(tray(51, 48), 1887, true, two);
    expect(pourPlan).toMatchObject({ pours: 2, pourMl: 450, soakMin: 50, shortMl: 990 });
    expect(doseMl).toBe(1890);
    expect(planDose(tray(51, 48), 1887, true, { ...two, mostPours: 12 }).pourPlan).toEqual({
      pours: 5,
      pourMl: 380,
      soakMin: 50,
    });
  });

  it('keeps the water below a third of the block: minis stand in 6 mm at most', () => {
    const one = tray(19, 280);
    const channelMm2 = 162_580 - 280 * 19 ** 2;
    expect(channelsHoldMl(one)).toBeCloseTo((channelMm2 * 19) / 3 / 1000, 6);
    expect(channelsHoldMl({ ...one, blockCount: trayVolumeMl(one) })).toBeGreaterThan(0);
  });

  it('plans nothing for a dose of nothing', () => {
    expect(planDose(tray(19, 280), 0, false, two)).toEqual({ doseMl: 0 });
  });
});
