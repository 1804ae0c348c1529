import { cameTrue, MIDDLE_BANDS_H } from '../../src/drying/curves/came-true.js';
import { HORIZON_H, type HoursTriple } from './forecaster.js';

/** One forecast and what came of it. */
export interface ScoredForecast {
  readonly kind: string;
  readonly blockSideMm: number;
  readonly probed: boolean;
  /** Dry-downs that the tray's bench had seen (probed trays) when the forecast was made. */
  readonly benchDryDowns: number;
  readonly forecast: HoursTriple;
  readonly truthH: number;
}

const QUANTILES = [
  [0.1, 'p10'],
  [0.5, 'p50'],
  [0.9, 'p90'],
] as const;

/** Pinball loss of one quantile: max(q (y - f), (q - 1)(y - f)), in the unit of y. */
export function pinball(q: number, truth: number, forecast: number): number {
  return Math.max(q * (truth - forecast), (q - 1) * (truth - forecast));
}

/** Mean pinball loss over .1, .5 and .9, hours. */
export function meanPinballH(rows: readonly ScoredForecast[]): number {
  let sum = 0;
  for (const { forecast, truthH } of rows)
    for (const [q, key] of QUANTILES) sum += pinball(q, Math.min(truthH, HORIZON_H), forecast[key]);
  return sum / (rows.length * QUANTILES.length);
}

/** Share of outcomes inside p10 to p90, 0 to 1: what the page and the reviewer are shown as "came true within the range". */
export function coverage(rows: readonly ScoredForecast[]): number {
  const followed = rows.map(({ forecast, truthH }, place) => ({
    dryDown: String(place),
    p10H: forecast.p10,
    p50H: forecast.p50,
    p90H: forecast.p90,
    followedH: truthH,
    reached: true,
  }));
  return cameTrue(followed).insideShare ?? Number.NaN;
}

function medianOf(values: number[]): number {
  values.sort((a, b) => a - b);
  return values[Math.floor(values.length / 2)] ?? Number.NaN;
}

/** Median of |p50 - truth| / truth. */
export function medianRelativeError(rows: readonly ScoredForecast[]): number {
  return medianOf(rows.map(({ forecast, truthH }) => Math.abs(forecast.p50 - truthH) / truthH));
}

/** Median of (p50 - truth) / truth: above 0 the rule thinks that trays last longer than they do. */
export function medianRelativeBias(rows: readonly ScoredForecast[]): number {
  return medianOf(rows.map(({ forecast, truthH }) => (forecast.p50 - truthH) / truthH));
}

/** Bands of the forecast's own p50, hours. */
export const BANDS = MIDDLE_BANDS_H;

export function inBand(
  rows: readonly ScoredForecast[],
  [from, to]: readonly [number, number],
): ScoredForecast[] {
  return rows.filter(({ forecast }) => forecast.p50 >= from && forecast.p50 < to);
}
