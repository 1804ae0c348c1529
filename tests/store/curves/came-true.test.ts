import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  cameTrue,
  cameTrueByBand,
  type FollowedForecast,
  followForecasts,
} from '../../../src/drying/curves/came-true.js';
import { seededRandom } from '../../page/season-weather.js';

const HOUR_MS = 3_600_000;

/** A forecast of 8 to 14 h, middle 10, in a dry-down of its own. */
const followed = (dryDown: number, change: Partial<FollowedForecast>): FollowedForecast => ({
  dryDown: String(dryDown),
  p10H: 8,
  p50H: 10,
  p90H: 14,
  followedH: 10,
  reached: true,
  ...change,
});

describe('cameTrue()', () => {
  it('is the plain share when every tray was left to its refill point, ends of the range included', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.1, max: 40, noNaN: true }), { minLength: 3, maxLength: 60 }),
        (hours) => {
          const rate = cameTrue(hours.map((followedH, place) => followed(place, { followedH })));
          const share = (fits: (h: number) => boolean) => hours.filter(fits).length / hours.length;
          expect(rate.insideShare).toBeCloseTo(
            share((h) => h >= 8 && h <= 14),
            9,
          );
          expect(rate.soonerShare).toBeCloseTo(
            share((h) => h < 8),
            9,
          );
          expect(rate.laterShare).toBeCloseTo(
            share((h) => h > 14),
            9,
          );
        },
      ),
    );
  });

  it('gives 8 of 10 for honest forecasts though growers water most trays before the refill point', () => {
    const random = seededRandom(7);
    const forecasts = Array.from({ length: 4000 }, (_, place) => {
      const u = random();
      // A tenth before 8 h, eight tenths up to 14 h, a tenth after.
      const truthH = u < 0.1 ? 80 * u : u < 0.9 ? 8 + 7.5 * (u - 0.1) : 14 + 50 * (u - 0.9);
      const wateredH = random() < 0.7 ? 3 + 9 * random() : 20;
      return followed(place, { followedH: Math.min(truthH, wateredH), reached: truthH <= wateredH });
    });
    const rate = cameTrue(forecasts);
    expect(Math.abs((rate.insideShare ?? 0) - 0.8)).toBeLessThan(0.03);
    const reached = forecasts.filter((one) => one.reached);
    // Counting those that got there alone takes the fast ones for all of them.
    const naiveSooner = reached.filter(({ followedH }) => followedH < 8).length / reached.length;
    expect(naiveSooner).toBeGreaterThan(0.14);
    expect(Math.abs((rate.soonerShare ?? 0) - 0.1)).toBeLessThan(0.02);
    expect(rate.decidedCount).toBeLessThan(rate.forecastCount);
  });

  it('holds a forecast that was outlived for too short, watered or not', () => {
    const rate = cameTrue([1, 2, 3, 4].map((place) => followed(place, { followedH: 20, reached: false })));
    expect(rate).toMatchObject({ insideShare: 0, soonerShare: 0, laterShare: 1, decidedCount: 4 });
  });

  it('takes a range without a late end for kept once its early end has passed', () => {
    const open = { p90H: Number.POSITIVE_INFINITY, followedH: 9, reached: false };
    expect(cameTrue([1, 2, 3].map((place) => followed(place, open)))).toMatchObject({ insideShare: 1 });
  });

  it('does not tell what lies beyond the watering that broke all of them off, but counts', () => {
    const early = [1, 2, 3, 4].map((place) => followed(place, { followedH: 9, reached: false }));
    expect(cameTrue([...early, followed(5, { followedH: 4 })])).toMatchObject({
      soonerShare: expect.closeTo(0.2, 9),
      insideShare: null,
      laterShare: null,
    });
  });

  it('says nothing where hardly a tray was left alone until the early end', () => {
    const open = [1, 2, 3, 4].map((place) => followed(place, { followedH: 4, reached: false }));
    expect(cameTrue([...open, followed(5, {})])).toEqual({
      forecastCount: 5,
      decidedCount: 1,
      dryDownCount: 5,
      decidedDryDownCount: 1,
      insideShare: null,
      soonerShare: null,
      laterShare: null,
    });
  });
});

describe('followForecasts()', () => {
  const told = (atH: number, p50H: number | null) => ({
    atMs: atH * HOUR_MS,
    p10H: p50H === null ? null : p50H * 0.8,
    p50H,
    p90H: p50H === null ? null : p50H * 1.3,
  });
  const dryDown = { trayId: 't1', startedAtMs: 0, endedAtMs: 30 * HOUR_MS };

  it('leaves out what was told right after the pour, beyond the horizon, at the refill point or within its last hour', () => {
    const ended = { ...dryDown, refillReachedAtMs: 20 * HOUR_MS };
    const forecasts = [told(1, 19), told(4, null), told(5, 15), told(6, 0), told(19.5, 0.5), told(25, 5)];
    expect(followForecasts([ended], forecasts).map(({ p50H, followedH }) => [p50H, followedH])).toEqual([
      [15, 15],
    ]);
  });

  it('follows a forecast to the watering where the refill point was not reached, each in its own dry-down', () => {
    const second = { trayId: 't1', startedAtMs: 30 * HOUR_MS, endedAtMs: 60 * HOUR_MS };
    const all = followForecasts([dryDown, second], [told(10, 25), told(31, 50), told(40, 30)]);
    expect(all.map(({ followedH, reached }) => [followedH, reached])).toEqual([
      [20, false],
      [20, false],
    ]);
    expect(new Set(all.map((one) => one.dryDown)).size).toBe(2);
  });

  it('bands by the middle of the forecast', () => {
    const all = followForecasts([dryDown], [told(4, 5), told(5, 6), told(6, 30), told(7, 80)]);
    expect(cameTrueByBand(all).map(({ forecastCount }) => forecastCount)).toEqual([1, 1, 1]);
  });
});
