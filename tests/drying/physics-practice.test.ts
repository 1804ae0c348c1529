import { describe, expect, it } from 'vitest';
import { type EstimateClimate, type EstimateTray, estimateBlock } from '../../src/drying/estimate.js';

/**
 * Common practice of growers who use blocks: uncovered minis (3/4 in) every morning when it is mild, twice a day when hot
 * and bright; 1 1/2 in and 2 in clearly longer; under a dome days go by. Bounds of the size ratios: what lies
 * between a tray-limited flux and forced convection (flux ∝ side^−m, m 0 to 0.5).
 */
const MILD: EstimateClimate = {
  temperatureC: 20,
  relativeHumidityPct: 60,
  airSpeedMPerS: 0.1,
  solarMJPerM2Day: 6,
  dayLengthH: 13,
};
const HOT_BRIGHT: EstimateClimate = {
  temperatureC: 29,
  nightTemperatureC: 20,
  relativeHumidityPct: 45,
  airSpeedMPerS: 0.15,
  solarMJPerM2Day: 12,
  dayLengthH: 15,
};
const COOL_DULL: EstimateClimate = { ...MILD, temperatureC: 15, relativeHumidityPct: 75, solarMJPerM2Day: 3 };
const SEEDLINGS = { cover: 'none', daysSinceGermination: 7 } as const;
const MINI: EstimateTray = { blockSideMm: 19.05, blockCount: 280, ...SEEDLINGS };
const MIDDLE: EstimateTray = { blockSideMm: 38.1, blockCount: 72, ...SEEDLINGS };
const LARGE: EstimateTray = { blockSideMm: 50.8, blockCount: 48, ...SEEDLINGS };

const lasts = (climate: EstimateClimate, tray: EstimateTray): number =>
  estimateBlock(climate, tray).hoursToRefill.p50 ?? Number.POSITIVE_INFINITY;

describe('estimateBlock() agrees with common practice', () => {
  it('uncovered minis last about a day when it is mild', () => {
    expect(lasts(MILD, MINI)).toBeGreaterThan(18);
    expect(lasts(MILD, MINI)).toBeLessThan(32);
    expect(estimateBlock(MILD, MINI).wateringsPerDay.p50).toBeGreaterThan(0.75);
    expect(estimateBlock(MILD, MINI).wateringsPerDay.p50).toBeLessThan(1.3);
  });

  it('uncovered minis need water twice a day when it is hot and bright', () => {
    expect(lasts(HOT_BRIGHT, MINI)).toBeLessThan(11);
    const { wateringsPerDay } = estimateBlock(HOT_BRIGHT, MINI);
    expect(Math.round(wateringsPerDay.p50)).toBe(2);
  });

  it('minis may wait for the second morning when it is cool and dull', () => {
    expect(lasts(COOL_DULL, MINI)).toBeGreaterThan(36);
  });

  it('larger blocks last clearly longer, in the ratio of the size prior', () => {
    for (const climate of [MILD, COOL_DULL]) {
      const mini = lasts(climate, MINI);
      expect(lasts(climate, MIDDLE) / mini).toBeGreaterThan(2);
      expect(lasts(climate, MIDDLE) / mini).toBeLessThan(2.8);
      expect(lasts(climate, LARGE) / mini).toBeGreaterThan(2.7);
      expect(lasts(climate, LARGE) / mini).toBeLessThan(4.3);
    }
    expect(lasts(HOT_BRIGHT, LARGE)).toBeGreaterThan(1.3 * lasts(HOT_BRIGHT, MIDDLE));
  });

  it('a dome is the biggest single switch: under it minis last for days', () => {
    expect(lasts(MILD, { ...MINI, cover: 'loose-dome' })).toBeGreaterThan(4 * 24);
    expect(lasts(MILD, { ...MINI, cover: 'film' })).toBeGreaterThan(2 * lasts(MILD, MINI));
  });

  it('wind, sun, heat, dry air and leaves each shorten it', () => {
    const base = lasts(MILD, MIDDLE);
    expect(lasts({ ...MILD, airSpeedMPerS: 0.4 }, MIDDLE)).toBeLessThan(base);
    expect(lasts({ ...MILD, solarMJPerM2Day: 10 }, MIDDLE)).toBeLessThan(base);
    expect(lasts({ ...MILD, temperatureC: 26 }, MIDDLE)).toBeLessThan(base);
    expect(lasts({ ...MILD, relativeHumidityPct: 45 }, MIDDLE)).toBeLessThan(base);
    expect(lasts(MILD, { ...MIDDLE, daysSinceGermination: 30 })).toBeLessThan(base);
  });

  it('the first blocks dry before the mean block, and the range holds its middle', () => {
    for (const tray of [MINI, MIDDLE, LARGE]) {
      const { hoursToRefill, hoursToRefillDriestTenth } = estimateBlock(MILD, tray);
      expect(hoursToRefillDriestTenth.p50).toBeLessThan(hoursToRefill.p50 ?? 0);
      expect(hoursToRefill.p10).toBeLessThan(hoursToRefill.p50 ?? 0);
      expect(hoursToRefill.p90).toBeGreaterThan(hoursToRefill.p50 ?? 0);
    }
  });

  it('doses are those of the table: about 0.6, 1.2 and 1.9 L a tray', () => {
    expect(estimateBlock(MILD, MINI).doseMlPerTray).toBeCloseTo(620, -2);
    expect(estimateBlock(MILD, MIDDLE).doseMlPerTray).toBeCloseTo(1200, -2);
    expect(estimateBlock(MILD, LARGE).doseMlPerTray).toBeCloseTo(1800, -2);
  });

  it('knowing capacity and refill point narrows the range', () => {
    const wide = estimateBlock(MILD, LARGE).hoursToRefill;
    const known = { ...LARGE, containerCapacityM3PerM3: 0.637, refillPointM3PerM3: 0.35 };
    const narrow = estimateBlock(MILD, known).hoursToRefill;
    expect((narrow.p90 ?? 0) - (narrow.p10 ?? 0)).toBeLessThan(0.8 * ((wide.p90 ?? 0) - (wide.p10 ?? 0)));
  });

  it('a saturated dark bench dries slowly, sooner on a warm mat', () => {
    const still = { ...MILD, relativeHumidityPct: 100, solarMJPerM2Day: 0 };
    expect(lasts(still, MINI)).toBeGreaterThan(7 * 24);
    expect(estimateBlock(still, MINI).hoursToRefill.p10).toBeLessThan(30 * 24);
    expect(lasts({ ...still, bottomHeatWPerM2: 60 }, MINI)).toBeLessThan(4 * 24);
  });
});
