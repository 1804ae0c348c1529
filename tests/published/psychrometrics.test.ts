import fc from 'fast-check';
import psychrolib from 'psychrolib';
import { describe, expect, it } from 'vitest';
import {
  atmosphericPressureKPa,
  dailySaturationVapourPressureKPa,
  dailyVapourPressureKPa,
  dewPointC,
  PSYCHROMETER_PER_K,
  psychrometricConstantKPaPerK,
  saturationSlopeKPaPerK,
  saturationVapourPressureKPa,
  vapourPressureFromWetBulbKPa,
  vapourPressureKPa,
  vpdKPa,
  wetBulbC,
} from '../../src/drying/physics/psychrometrics.js';
import { comparisonsOf } from './comparison.js';

const compare = comparisonsOf('psychrometrics');
psychrolib.SetUnitSystem(psychrolib.SI);

/** FAO-56 annex 2, table 2.3: e0(T) at whole degrees from 1 °C, and some half degrees. */
const E0_FROM_1_C = [
  0.657, 0.706, 0.758, 0.813, 0.872, 0.935, 1.002, 1.073, 1.148, 1.228, 1.313, 1.403, 1.498, 1.599, 1.705,
  1.818, 1.938, 2.064, 2.197, 2.338, 2.487, 2.644, 2.809, 2.984, 3.168, 3.361, 3.565, 3.78, 4.006, 4.243,
  4.493, 4.755, 5.03, 5.319, 5.623, 5.941, 6.275, 6.625, 6.991, 7.376, 7.778, 8.199, 8.64, 9.101, 9.582,
  10.086, 10.613, 11.163,
];
const E0_HALVES = [
  [1.5, 0.681],
  [2.5, 0.731],
  [21.5, 2.564],
  [24.5, 3.075],
  [48.5, 11.447],
] as const;
/** Table 2.4. */
const SLOPES = [
  [1, 0.047],
  [10, 0.082],
  [15, 0.11],
  [20, 0.145],
  [25, 0.189],
  [30, 0.243],
  [35, 0.311],
  [40, 0.393],
  [48, 0.562],
] as const;
/** Table 2.1. */
const PRESSURES = [
  [0, 101.3],
  [100, 100.1],
  [500, 95.5],
  [1000, 90],
  [1200, 87.9],
  [1800, 81.8],
  [3000, 70.5],
  [4000, 62.1],
] as const;
/** Table 2.2. */
const GAMMAS = [
  [0, 0.067],
  [500, 0.064],
  [1000, 0.06],
  [1800, 0.054],
  [3000, 0.047],
] as const;

describe('FAO-56 annex 2', () => {
  it('saturationVapourPressureKPa() meets table 2.3', () => {
    E0_FROM_1_C.forEach((e0, i) => {
      compare('e0(T), kPa', saturationVapourPressureKPa(i + 1), e0);
    });
    for (const [t, e0] of E0_HALVES) compare('e0(T), kPa', saturationVapourPressureKPa(t), e0);
  });

  it('saturationSlopeKPaPerK() meets table 2.4', () => {
    for (const [t, slope] of SLOPES) compare('slope, kPa/K', saturationSlopeKPaPerK(t), slope);
  });

  it('atmosphericPressureKPa() meets table 2.1 and psychrometricConstantKPaPerK() table 2.2', () => {
    for (const [z, p] of PRESSURES) compare('P(z), kPa', atmosphericPressureKPa(z), p);
    for (const [z, g] of GAMMAS)
      compare('gamma(z), kPa/K', psychrometricConstantKPaPerK(atmosphericPressureKPa(z)), g);
  });
});

describe('FAO-56 worked examples', () => {
  const row = 'worked examples, kPa';

  it('example 2: pressure and psychrometric constant at 1800 m', () => {
    compare('P(z), kPa', atmosphericPressureKPa(1800), 81.8);
    compare('gamma(z), kPa/K', psychrometricConstantKPaPerK(atmosphericPressureKPa(1800)), 0.054);
  });

  it('example 3: mean saturation pressure of a day is not that of its mean temperature', () => {
    compare(row, saturationVapourPressureKPa(24.5), 3.075);
    compare(row, saturationVapourPressureKPa(15), 1.705);
    compare(row, dailySaturationVapourPressureKPa(24.5, 15), 2.39);
    compare(row, saturationVapourPressureKPa(19.75), 2.3);
  });

  it('example 4: vapour pressure from dry and wet bulb', () => {
    compare(row, saturationVapourPressureKPa(19.5), 2.267);
    compare(row, vapourPressureFromWetBulbKPa(25.6, 19.5, 87.9, PSYCHROMETER_PER_K.aspirated), 1.91);
  });

  it('examples 5 and 6: vapour pressure and deficit of a day', () => {
    compare(row, saturationVapourPressureKPa(18), 2.064);
    compare(row, saturationVapourPressureKPa(25), 3.168);
    compare(row, dailyVapourPressureKPa(18, 82, 25, 54), 1.7);
    compare(row, dailySaturationVapourPressureKPa(25, 18), 2.62);
    compare(row, dailySaturationVapourPressureKPa(25, 18) - dailyVapourPressureKPa(18, 82, 25, 54), 0.91);
  });

  it('example 19: hourly deficit', () => {
    const hourly = 'hourly examples, kPa';
    compare(hourly, saturationVapourPressureKPa(28), 3.78);
    compare(hourly, vapourPressureKPa(28, 90), 3.402);
    compare(hourly, vpdKPa(28, 90), 0.378);
    compare(hourly, saturationVapourPressureKPa(38), 6.625);
    compare(hourly, vapourPressureKPa(38, 52), 3.445);
    compare(hourly, vpdKPa(38, 52), 3.18);
  });
});

describe('dew point and wet bulb', () => {
  it('dewPointC() and wetBulbC() meet values computed from the equations', () => {
    compare('dew point, °C', dewPointC(vapourPressureKPa(20, 50)), 9.27);
    compare('dew point, °C', dewPointC(vapourPressureKPa(25, 60)), 16.696);
    compare('dew point, °C', dewPointC(vapourPressureKPa(30, 80)), 26.165);
    compare('dew point, °C', dewPointC(vapourPressureKPa(18, 90)), 16.335);
    compare('wet bulb, °C', wetBulbC(20, 50), 13.84);
    compare('wet bulb, °C', wetBulbC(25, 60), 19.51);
    compare('wet bulb, °C', wetBulbC(30, 40), 20.14);
    compare('wet bulb, °C', wetBulbC(22, 70), 18.28);
    compare('wet bulb, °C', wetBulbC(18, 80), 15.82);
  });

  it('the order dew point, wet bulb, air holds, and all three meet at saturation', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -5, max: 50, noNaN: true }),
        fc.double({ min: 1, max: 100, noNaN: true }),
        (t, rh) => {
          const dew = dewPointC(vapourPressureKPa(t, rh));
          const wet = wetBulbC(t, rh);
          expect(dew).toBeLessThanOrEqual(wet + 1e-9);
          expect(wet).toBeLessThanOrEqual(t + 1e-9);
          expect(dewPointC(saturationVapourPressureKPa(t))).toBeCloseTo(t, 9);
          expect(wetBulbC(t, 100)).toBeCloseTo(t, 7);
          expect(vpdKPa(t, 100)).toBe(0);
          expect(vpdKPa(t, rh)).toBeGreaterThanOrEqual(vpdKPa(t, Math.min(100, rh + 1)));
          expect(vpdKPa(t + 1, rh)).toBeGreaterThanOrEqual(vpdKPa(t, rh));
        },
      ),
    );
  });

  it('dewPointC() refuses air without vapour', () => {
    expect(() => dewPointC(0)).toThrow(RangeError);
    expect(() => dewPointC(Number.NaN)).toThrow(RangeError);
  });
});

describe('independent references', () => {
  it('saturationVapourPressureKPa() agrees with ASHRAE (psychrolib) and IAPWS-IF97', () => {
    const row = 'saturation pressure, share';
    for (const t of [5, 25, 50])
      compare(row, saturationVapourPressureKPa(t), psychrolib.GetSatVapPres(t) / 1000);
    /** IAPWS-IF97 region 4 at 10, 20, 30, 40 °C. */
    const iapws = [1.22818, 2.33921, 4.24669, 7.38443];
    iapws.forEach((kPa, i) => {
      compare(row, saturationVapourPressureKPa(10 * (i + 1)), kPa);
    });
  });

  it('the published check of psychrolib itself still holds (the oracle is the one we think)', () => {
    expect(psychrolib.GetSatVapPres(25)).toBeCloseTo(3169.7, 0);
    expect(psychrolib.GetStandardAtmPressure(1000)).toBeCloseTo(89_875, 0);
    expect(psychrolib.GetTWetBulbFromRelHum(7, 0.61, 100_000)).toBeCloseTo(3.92667, 2);
    expect(psychrolib.GetHumRatioFromTWetBulb(30, 25, 95_461)).toBeCloseTo(0.0192281, 4);
  });

  it('dewPointC() and wetBulbC() agree with ASHRAE over a greenhouse (dew points above freezing)', () => {
    for (let t = 10; t <= 45; t += 5) {
      for (let rh = 50; rh <= 90; rh += 10) {
        compare(
          'psychrolib dew point, K',
          dewPointC(vapourPressureKPa(t, rh)),
          psychrolib.GetTDewPointFromRelHum(t, rh / 100),
        );
        compare(
          'psychrolib wet bulb, K',
          wetBulbC(t, rh),
          psychrolib.GetTWetBulbFromRelHum(t, rh / 100, 101_325),
        );
      }
    }
  });
});
