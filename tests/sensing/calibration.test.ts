import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CARRIED_ON_SHARE, createCalibration } from '../../src/sensing/calibration/calibration.js';
import { calibrationLevels } from '../../src/sensing/calibration/calibration-points.js';
import { monotoneCubic } from '../../src/sensing/calibration/monotone-cubic.js';

const TWO_POINTS = [
  { volts: 2.21, waterContentM3PerM3: 0.155 },
  { volts: 1.33, waterContentM3PerM3: 0.581 },
];

/** Points of a probe whose voltage falls with wetness, in order, any spacing. */
const orderedPoints = fc
  .array(fc.tuple(fc.integer({ min: 1, max: 40 }), fc.integer({ min: 1, max: 40 })), {
    minLength: 1,
    maxLength: 12,
  })
  .map((steps) => {
    let volts = 2.8;
    let content = 0.05;
    const points = [{ volts, waterContentM3PerM3: content }];
    const sum = steps.reduce((total, [, rise]) => total + rise, 0);
    for (const [fall, rise] of steps) {
      volts -= 0.05 + fall / 400;
      content += (0.7 * rise) / sum;
      points.push({ volts, waterContentM3PerM3: content });
    }
    return points;
  });

describe('createCalibration()', () => {
  it('is the straight line through two points and their inverse', () => {
    const calibration = createCalibration(TWO_POINTS);
    expect(calibration.waterContent(2.21)).toMatchObject({ waterContentM3PerM3: 0.155, beyond: false });
    expect(calibration.waterContent(1.33).waterContentM3PerM3).toBeCloseTo(0.581, 12);
    expect(calibration.waterContent(1.77).waterContentM3PerM3).toBeCloseTo(0.368, 12);
    expect(calibration.volts(0.368)).toBeCloseTo(1.77, 9);
    expect(calibration.slopeM3PerM3PerV(1.77)).toBeCloseTo(-0.426 / 0.88, 12);
    expect(calibration.fallsWithWetness).toBe(true);
  });

  it('is carried on by a fifth of its span, flagged, and then held', () => {
    const calibration = createCalibration(TWO_POINTS);
    const reachV = CARRIED_ON_SHARE * 0.88;
    const carried = calibration.waterContent(1.33 - reachV);
    expect(carried.beyond).toBe(true);
    expect(carried.waterContentM3PerM3).toBeCloseTo(0.581 + 0.2 * 0.426, 12);
    expect(calibration.waterContent(0.4).waterContentM3PerM3).toBeCloseTo(0.581 + 0.2 * 0.426, 12);
    expect(calibration.waterContent(5).waterContentM3PerM3).toBeCloseTo(0.155 - 0.2 * 0.426, 12);
    expect(carried.sdM3PerM3).toBeGreaterThan(calibration.waterContent(1.4).sdM3PerM3);
    expect(calibration.waterContent(0.4).sdM3PerM3).toBeGreaterThan(carried.sdM3PerM3);
  });

  it('passes through two to four points that are in order, near more, rises strictly, and inverts', () => {
    fc.assert(
      fc.property(orderedPoints, (points) => {
        const calibration = createCalibration(points);
        for (const { volts, waterContentM3PerM3 } of points)
          expect(Math.abs(calibration.waterContentM3PerM3(volts) - waterContentM3PerM3)).toBeLessThan(
            points.length < 5 ? 1e-9 : 3 * calibration.residualSdM3PerM3,
          );
        const driest = calibration.driestVolts;
        const step = (calibration.wettestVolts - driest) / 40;
        for (let i = 0; i < 40; i++) {
          const here = calibration.waterContentM3PerM3(driest + i * step);
          if (here <= 0 || here >= 1) continue;
          expect(calibration.waterContentM3PerM3(driest + (i + 1) * step)).toBeGreaterThan(here);
          expect(calibration.waterContentM3PerM3(calibration.volts(here))).toBeCloseTo(here, 9);
        }
      }),
    );
  });

  it('takes points in any order, with the same name and curve', () => {
    fc.assert(
      fc.property(
        orderedPoints.chain((points) =>
          fc.tuple(fc.constant(points), fc.shuffledSubarray(points, { minLength: points.length })),
        ),
        ([points, shuffled]) => {
          const a = createCalibration(points);
          const b = createCalibration(shuffled);
          expect(b.id).toBe(a.id);
          expect(b.waterContentM3PerM3(2.3)).toBe(a.waterContentM3PerM3(2.3));
        },
      ),
    );
  });

  it('stays within 0 and 1 and finite whatever the voltage', () => {
    fc.assert(
      fc.property(orderedPoints, fc.double({ min: -20, max: 20, noNaN: true }), (points, volts) => {
        const reading = createCalibration(points).waterContent(volts);
        expect(reading.waterContentM3PerM3).toBeGreaterThanOrEqual(0);
        expect(reading.waterContentM3PerM3).toBeLessThanOrEqual(1);
        expect(reading.sdM3PerM3).toBeGreaterThan(0);
        expect(Number.isFinite(reading.sdM3PerM3)).toBe(true);
      }),
    );
  });

  it('pools points whose order noise has broken, and carries their scatter', () => {
    const noisy = [
      [2.4, 0.1],
      [2.2, 0.19],
      [2.0, 0.17],
      [1.8, 0.33],
      [1.6, 0.39],
      [1.4, 0.37],
      [1.2, 0.6],
    ].map(([volts = 0, waterContentM3PerM3 = 0]) => ({ volts, waterContentM3PerM3 }));
    const calibration = createCalibration(noisy);
    let before = -1;
    for (let volts = 2.4; volts > 1.2; volts -= 0.01) {
      const here = calibration.waterContentM3PerM3(volts);
      expect(here).toBeGreaterThan(before);
      before = here;
    }
    expect(calibration.residualSdM3PerM3).toBeGreaterThan(0.0103);
    expect(calibration.residualSdM3PerM3).toBeLessThan(0.065);
  });

  it('knows a probe whose voltage rises with wetness', () => {
    const calibration = createCalibration([
      { volts: 0.4, waterContentM3PerM3: 0.1 },
      { volts: 0.9, waterContentM3PerM3: 0.3 },
      { volts: 1.1, waterContentM3PerM3: 0.6 },
    ]);
    expect(calibration.fallsWithWetness).toBe(false);
    expect(calibration.waterContentM3PerM3(0.9)).toBeCloseTo(0.3, 12);
    expect(calibration.slopeM3PerM3PerV(1)).toBeGreaterThan(0);
  });

  it('refers volts to the reference temperature when told how they drift', () => {
    const plain = createCalibration(TWO_POINTS);
    const compensated = createCalibration(TWO_POINTS, { voltsPerK: 0.002, referenceC: 20 });
    expect(compensated.waterContent(1.79, 30).waterContentM3PerM3).toBeCloseTo(
      plain.waterContentM3PerM3(1.77),
      12,
    );
    expect(compensated.waterContent(1.79).waterContentM3PerM3).toBe(plain.waterContentM3PerM3(1.79));
  });
});

/** Sensor shapes: volts at a water content. */
const SHAPES = {
  exponential: (water: number) => 1.2 + 1.3 * Math.exp(-4 * water),
  straight: (water: number) => 2.5 - 1.9 * water,
  sigmoid: (water: number) => 1.1 + 1.4 / (1 + Math.exp((water - 0.35) * 9)),
  hyperbolic: (water: number) => 2.6 / (1 + 1.8 * water),
};

/** Evenly spread numbers between −1.6 and 1.6, standing for weighing errors (golden-ratio sequence). */
function weighingError(index: number): number {
  return 3.2 * ((index * 0.6180339887498949) % 1) - 1.6;
}

describe('the residual carried with a reading is honest', () => {
  const cases = Object.entries(SHAPES).flatMap(([name, volts]) =>
    [3, 5, 8, 12].flatMap((count) => [0.005, 0.02, 0.04].map((noise) => ({ name, volts, count, noise }))),
  );

  it.each(cases)(
    '$name, $count points, weighing error $noise: neither boastful nor useless',
    ({ volts, count, noise }) => {
      let squares = 0;
      let claimed = 0;
      let readings = 0;
      const sets = 20;
      for (let set = 0; set < sets; set++) {
        const points = Array.from({ length: count }, (_, i) => {
          const water = 0.1 + (0.55 * i) / (count - 1);
          return {
            volts: volts(water),
            waterContentM3PerM3: water + noise * weighingError(set * 37 + i * 11 + 1),
          };
        });
        const calibration = createCalibration(points);
        claimed += calibration.residualSdM3PerM3;
        for (let water = 0.12; water < 0.63; water += 0.03) {
          squares += (calibration.waterContentM3PerM3(volts(water)) - water) ** 2;
          readings += 1;
        }
      }
      const error = Math.sqrt(squares / readings);
      expect(claimed / sets).toBeGreaterThan(0.5 * error);
      expect(claimed / sets).toBeLessThan(Math.max(0.026, 3 * error));
    },
  );
});

describe('calibrationLevels() refuses with a code and what to do', () => {
  const code = (points: readonly (readonly [number, number])[]) => {
    const result = calibrationLevels(
      points.map(([volts, waterContentM3PerM3]) => ({ volts, waterContentM3PerM3 })),
    );
    return result.ok ? 'ok' : result.problem.code;
  };

  it.each([
    ['one point', [[1, 0.3]], 'too-few'],
    [
      'not a number',
      [
        [1, 0.3],
        [Number.NaN, 0.5],
      ],
      'not-a-number',
    ],
    [
      'the same voltage',
      [
        [1, 0.3],
        [1.01, 0.5],
      ],
      'one-voltage',
    ],
    [
      'the same moisture',
      [
        [1, 0.3],
        [2, 0.31],
      ],
      'too-alike',
    ],
    [
      'a hill',
      [
        [1, 0.1],
        [1.5, 0.6],
        [2, 0.1],
      ],
      'contradictory',
    ],
    [
      'a fair set',
      [
        [1, 0.6],
        [1.5, 0.4],
        [2, 0.1],
      ],
      'ok',
    ],
  ] as const)('%s', (_name, points, expected) => {
    expect(code(points)).toBe(expected);
  });

  it('createCalibration() throws the same words', () => {
    expect(() => createCalibration([{ volts: 1, waterContentM3PerM3: 0.3 }])).toThrow(
      /weigh the witness block/,
    );
  });
});

describe('a calibration of two hundred points', () => {
  it('is fitted as closely as their scatter allows', () => {
    const points = Array.from({ length: 200 }, (_, i) => {
      const water = 0.1 + (0.5 * i) / 199;
      return { volts: SHAPES.exponential(water), waterContentM3PerM3: water + 0.02 * weighingError(i) };
    });
    const calibration = createCalibration(points);
    expect(calibration.waterContentM3PerM3(SHAPES.exponential(0.4))).toBeCloseTo(0.4, 1.5);
    expect(calibration.residualSdM3PerM3).toBeLessThan(0.025);
  });
});

describe('monotoneCubic()', () => {
  it('its slope is the derivative of its value', () => {
    const curve = monotoneCubic([0, 1, 1.5, 4], [0, 0.1, 2, 2.1]);
    for (let x = -0.5; x < 4.5; x += 0.037) {
      const numeric = (curve.valueAt(x + 1e-6) - curve.valueAt(x - 1e-6)) / 2e-6;
      expect(curve.slopeAt(x)).toBeCloseTo(numeric, 4);
    }
  });

  it('refuses knots that do not rise', () => {
    expect(() => monotoneCubic([0, 1], [1, 1])).toThrow(RangeError);
    expect(() => monotoneCubic([0, 0], [0, 1])).toThrow(RangeError);
    expect(() => monotoneCubic([0], [0])).toThrow(RangeError);
  });
});
