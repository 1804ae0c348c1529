import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type EstimateClimate, type EstimateTray, estimateBlock } from '../../src/drying/estimate.js';
import { LATENT_HEAT_J_PER_KG } from '../../src/drying/physics/air/air.js';
import {
  saturationSlopeKPaPerK,
  saturationVapourPressureKPa,
} from '../../src/drying/physics/air/psychrometrics.js';
import { potentialDryingPerH } from '../../src/drying/physics/drying-law.js';
import { leafConductanceMPerS } from '../../src/drying/physics/growth.js';
import { trayExchange, withLeaves } from '../../src/drying/physics/tray-exchange.js';
import { mediumDepthMm } from '../../src/drying/physics/tray-geometry.js';

/** Every corner of what `drybell estimate` takes: the ends themselves come up often. */
const number = (min: number, max: number): fc.Arbitrary<number> =>
  fc.oneof(fc.constantFrom(min, max), fc.double({ min, max, noNaN: true }));
const climates: fc.Arbitrary<EstimateClimate> = fc.record({
  temperatureC: number(-10, 60),
  nightTemperatureC: fc.option(number(-10, 60), { nil: undefined }),
  relativeHumidityPct: number(1, 100),
  airSpeedMPerS: number(0, 5),
  solarMJPerM2Day: number(0, 40),
  dayLengthH: number(1, 24),
  bottomHeatWPerM2: fc.option(number(0, 300), { nil: undefined }),
});
const trays: fc.Arbitrary<EstimateTray> = fc.record({
  blockSideMm: number(10, 300),
  blockCount: fc.oneof(fc.constantFrom(1, 2000), fc.integer({ min: 1, max: 2000 })),
  cover: fc.constantFrom('none', 'film', 'loose-dome', 'tight-dome'),
  daysSinceGermination: fc.option(number(0, 120), { nil: undefined }),
});
const hours = (climate: EstimateClimate, tray: EstimateTray): number =>
  estimateBlock(climate, tray).hoursToRefill.p50 ?? Number.POSITIVE_INFINITY;
/** Room for rounding where both lie together. */
const NO_LONGER = 1 + 1e-9;
const MJ_PER_W_H = 3600 / 1e6;

describe('estimateBlock() in every corner of its inputs', () => {
  it('is finite, or beyond the horizon, and its range is in order', () => {
    fc.assert(
      fc.property(climates, trays, (climate, tray) => {
        const { hoursToRefill, hoursToRefillDriestTenth, wateringsPerDay, ...rest } = estimateBlock(
          climate,
          tray,
        );
        for (const { p10, p50, p90 } of [hoursToRefill, hoursToRefillDriestTenth]) {
          const [
            low = Number.POSITIVE_INFINITY,
            middle = Number.POSITIVE_INFINITY,
            high = Number.POSITIVE_INFINITY,
          ] = [p10, p50, p90];
          expect(low).toBeGreaterThan(0);
          expect(low).toBeLessThanOrEqual(middle);
          expect(middle).toBeLessThanOrEqual(high);
        }
        expect(hoursToRefillDriestTenth.p50 ?? Number.POSITIVE_INFINITY).toBeLessThanOrEqual(
          hoursToRefill.p50 ?? Number.POSITIVE_INFINITY,
        );
        for (const value of [...Object.values(rest), ...Object.values(wateringsPerDay)]) {
          expect(Number.isFinite(value)).toBe(true);
          expect(value).toBeGreaterThan(0);
        }
      }),
    );
  });

  it('more heat, light, wind, leaf, bottom heat or drier air never lasts longer', () => {
    const more = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(climates, trays, more, (climate, tray, share) => {
        const as = hours(climate, tray) * NO_LONGER;
        const towards = (value: number, end: number): number => value + share * (end - value);
        const warmer = share * (60 - Math.max(climate.temperatureC, climate.nightTemperatureC ?? -10));
        const night = climate.nightTemperatureC;
        const heated: EstimateClimate = {
          ...climate,
          temperatureC: climate.temperatureC + warmer,
          ...(night === undefined ? {} : { nightTemperatureC: night + warmer }),
        };
        expect(hours(heated, tray), 'heat').toBeLessThanOrEqual(as);
        for (const change of [
          { solarMJPerM2Day: towards(climate.solarMJPerM2Day, 40) },
          { airSpeedMPerS: towards(climate.airSpeedMPerS, 5) },
          { bottomHeatWPerM2: towards(climate.bottomHeatWPerM2 ?? 0, 300) },
          { relativeHumidityPct: towards(climate.relativeHumidityPct, 1) },
        ])
          expect(hours({ ...climate, ...change }, tray), JSON.stringify(change)).toBeLessThanOrEqual(as);
        const older = { ...tray, daysSinceGermination: towards(tray.daysSinceGermination ?? 0, 120) };
        expect(hours(climate, older), 'leaf').toBeLessThanOrEqual(as);
        expect(hours(climate, { ...tray, cover: 'none' }), 'no cover').toBeLessThanOrEqual(as);
      }),
    );
  });

  it('no farm in a hundred turns more sun into vapour than shines', () => {
    fc.assert(
      fc.property(climates, trays, (climate, tray) => {
        const known = { containerCapacityM3PerM3: 0.62, refillPointM3PerM3: 0.32 };
        const bare = { ...tray, ...known, daysSinceGermination: undefined };
        const mmPerDay = (solarMJPerM2Day: number): number =>
          estimateBlock({ ...climate, solarMJPerM2Day }, bare).wateringsPerDay.p90 *
          0.3 *
          mediumDepthMm(tray);
        const bySunMJ = (mmPerDay(climate.solarMJPerM2Day) - mmPerDay(0)) * (LATENT_HEAT_J_PER_KG / 1e6);
        expect(bySunMJ).toBeLessThanOrEqual(climate.solarMJPerM2Day * NO_LONGER + 1e-5);
      }),
    );
  });

  it('30 MJ of evaporation from 28 MJ of sun is gone: full leaves at 35 °C in saturated air stay within it', () => {
    const climate = {
      temperatureC: 35,
      relativeHumidityPct: 100,
      airSpeedMPerS: 0.1,
      solarMJPerM2Day: 28,
      dayLengthH: 13,
    };
    const tray = { blockSideMm: 38.1, blockCount: 72, cover: 'none', daysSinceGermination: 32 } as const;
    const mm = (estimateBlock(climate, tray).lossMlPerBlockPerDay / 38.1 ** 3) * 1000 * mediumDepthMm(tray);
    expect((mm * LATENT_HEAT_J_PER_KG) / 1e6).toBeLessThan(0.9 * 28);
    expect((mm * LATENT_HEAT_J_PER_KG) / 1e6).toBeGreaterThan(0.4 * 28);
  });
});

describe('potentialDryingPerH() within the energy that is there', () => {
  it('is no more than sun, bottom heat and what the air can bring to a surface at its dew point', () => {
    const weather = fc.record({
      temperatureC: number(-10, 60),
      vpdShare: number(0, 0.99),
      solarWPerM2: number(0, 1200),
      bottomHeatWPerM2: number(0, 300),
    });
    fc.assert(
      fc.property(trays, number(0, 5), number(0, 1), weather, (tray, airSpeed, leaves, at) => {
        const exchange = trayExchange(tray, airSpeed);
        const vpdKPa = at.vpdShare * saturationVapourPressureKPa(at.temperatureC);
        const perH = potentialDryingPerH(
          { exchange, cover: tray.cover, leafShare: leaves },
          { ...at, vpdKPa },
        );
        const watts = (perH * exchange.mediumDepthMm * LATENT_HEAT_J_PER_KG) / 3600;
        const surface = withLeaves(exchange, leafConductanceMPerS(leaves, at.solarWPerM2));
        const deficit = Math.max(vpdKPa, 0.02 * saturationVapourPressureKPa(at.temperatureC));
        const broughtWPerM2 =
          (surface.heatTransferWPerM2K * deficit) / saturationSlopeKPaPerK(at.temperatureC);
        expect(perH).toBeGreaterThan(0);
        expect(watts * MJ_PER_W_H).toBeLessThanOrEqual(
          (at.solarWPerM2 + at.bottomHeatWPerM2 + broughtWPerM2) * MJ_PER_W_H * NO_LONGER,
        );
      }),
    );
  });
});
