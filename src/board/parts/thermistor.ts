import type { ThermistorCurve } from '../../../shared/config/kit/hookup.js';

const zeroCelsiusK = 273.15;

/** Steinhart–Hart: 1/T = a + b·ln R + c·(ln R)^3, T in kelvin, R in ohm (Steinhart & Hart 1968, Deep-Sea Research 15:497). */
export interface SteinhartHart {
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

export interface ResistancePoint {
  readonly temperatureC: number;
  readonly resistanceOhm: number;
}

/**
 * Coefficients through three rows of a maker's table.
 * @throws RangeError when two rows have the same resistance
 */
export function steinhartHartThrough(
  points: readonly [ResistancePoint, ResistancePoint, ResistancePoint],
): SteinhartHart {
  const [l1, l2, l3] = points.map((point) => Math.log(point.resistanceOhm)) as [number, number, number];
  const [y1, y2, y3] = points.map((point) => 1 / (point.temperatureC + zeroCelsiusK)) as [
    number,
    number,
    number,
  ];
  if (l1 === l2 || l2 === l3 || l1 === l3) throw new RangeError('expected three different resistances');
  const g2 = (y2 - y1) / (l2 - l1);
  const g3 = (y3 - y1) / (l3 - l1);
  const c = (g3 - g2) / (l3 - l2) / (l1 + l2 + l3);
  const b = g2 - c * (l1 * l1 + l1 * l2 + l2 * l2);
  return { a: y1 - (b + c * l1 * l1) * l1, b, c };
}

/** The beta equation 1/T = 1/T25 + ln(R/R25)/B as Steinhart–Hart coefficients with c = 0. */
export function steinhartHartOfBeta(resistanceAt25Ohm: number, betaK: number): SteinhartHart {
  return { a: 1 / (25 + zeroCelsiusK) - Math.log(resistanceAt25Ohm) / betaK, b: 1 / betaK, c: 0 };
}

/** Coefficients of a configured curve. */
export function steinhartHartOf(curve: ThermistorCurve): SteinhartHart {
  if ('betaK' in curve) return steinhartHartOfBeta(curve.resistanceAt25Ohm, curve.betaK);
  const [first, second, third] = curve.points;
  if (first === undefined || second === undefined || third === undefined)
    throw new RangeError("expected three points of the thermistor's table");
  return steinhartHartThrough([first, second, third]);
}

/** Temperature, °C, of a thermistor with `resistanceOhm` above 0. */
export function thermistorC(resistanceOhm: number, curve: SteinhartHart): number {
  const lnR = Math.log(resistanceOhm);
  return 1 / (curve.a + curve.b * lnR + curve.c * lnR ** 3) - zeroCelsiusK;
}
