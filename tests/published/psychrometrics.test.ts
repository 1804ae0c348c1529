import fc from 'fast-check';
import psychrolib from 'psychrolib';
import { describe, expect, it } from 'vitest';
import {
  psychrometricConstantKPaPerK,
  saturationSlopeKPaPerK,
  saturationVapourPressureKPa,
  vapourPressureKPa,
  vpdKPa,
} from '../../src/drying/physics/air/psychrometrics.js';
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
/** Tables 2.1 and 2.2: altitude, pressure there in kPa, psychrometric constant in kPa/K. */
const PRESSURES_AND_GAMMAS = [
  [0, 101.3, 0.067],
  [500, 95.5, 0.064],
  [1000, 90, 0.06],
  [1800, 81.8, 0.054],
  [3000, 70.5, 0.047],
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

  it('psychrometricConstantKPaPerK() meets table 2.2 at the pressures of table 2.1', () => {
    for (const [, pressureKPa, gamma] of PRESSURES_AND_GAMMAS)
      compare('gamma, kPa/K', psychrometricConstantKPaPerK(pressureKPa), gamma);
  });
});

describe('FAO-56 worked examples', () => {
  it('examples 3 to 6: saturation vapour pressure', () => {
    const published = [
      [24.5, 3.075],
      [15, 1.705],
      [19.75, 2.3],
      [19.5, 2.267],
      [18, 2.064],
      [25, 3.168],
    ] as const;
    for (const [temperatureC, kPa] of published)
      compare('worked examples, kPa', saturationVapourPressureKPa(temperatureC), kPa);
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

describe('vpdKPa()', () => {
  it('is 0 at saturation, and no damper or colder air has a larger one', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -5, max: 50, noNaN: true }),
        fc.double({ min: 1, max: 100, noNaN: true }),
        (t, rh) => {
          expect(vpdKPa(t, 100)).toBe(0);
          expect(vpdKPa(t, rh)).toBeGreaterThanOrEqual(vpdKPa(t, Math.min(100, rh + 1)));
          expect(vpdKPa(t + 1, rh)).toBeGreaterThanOrEqual(vpdKPa(t, rh));
        },
      ),
    );
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
  });

  it('vpdKPa() agrees with ASHRAE over a greenhouse', () => {
    for (let t = 10; t <= 45; t += 5)
      for (let rh = 50; rh <= 90; rh += 10) {
        const saturated = psychrolib.GetSatVapPres(t) / 1000;
        compare(
          'psychrolib deficit, share',
          vpdKPa(t, rh),
          saturated - psychrolib.GetVapPresFromRelHum(t, rh / 100) / 1000,
        );
      }
  });
});
