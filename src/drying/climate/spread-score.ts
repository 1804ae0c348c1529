/** Bands of lead in which the width of forecasts is judged, h: upper ends. */
export const BAND_ENDS_H = [6, 24, Number.POSITIVE_INFINITY] as const;

/** Log of the factor by which the weather's spread is widened, per band of lead; shared between all trays. */
export interface SpreadScore {
  readonly logWidening: number[];
  readonly scored: number[];
}

export function newSpreadScore(): SpreadScore {
  return { logWidening: BAND_ENDS_H.map(() => 0), scored: BAND_ENDS_H.map(() => 0) };
}

/** Leads at which forecasts and experts are held against what came, and how often one is kept for it, h. */
export const SCORED_LEADS_H = [3, 6, 12, 24] as const;
export const SCORED_EVERY_H = SCORED_LEADS_H[0];
/** Falls smaller than this say more of the probe than of who foretold them, m³/m³. */
export const LEAST_SCORED_FALL = 0.01;

/** Share of outcomes that a p10–p90 interval is meant to miss. */
const MISS_TARGET = 0.2;
const LEARNING = 0.03;
const MOST_LOG_WIDENING = 0.8;

/** Adaptive conformal step (Gibbs & Candès 2021) of the log of a width: wider after a miss, a little narrower after a hit. */
export function conformalStep(logWidth: number, inside: boolean): number {
  const next = logWidth + LEARNING * ((inside ? 0 : 1) - MISS_TARGET);
  return Math.max(-MOST_LOG_WIDENING, Math.min(MOST_LOG_WIDENING, next));
}

export function bandOf(leadH: number): number {
  const band = BAND_ENDS_H.findIndex((end) => leadH <= end);
  return band < 0 ? BAND_ENDS_H.length - 1 : band;
}

export function scoreOutcome(score: SpreadScore, leadH: number, inside: boolean): void {
  const band = bandOf(leadH);
  score.logWidening[band] = conformalStep(score.logWidening[band] ?? 0, inside);
  score.scored[band] = (score.scored[band] ?? 0) + 1;
}

/** Factor on the spread of the weather, from all bands. */
export function weatherWidening(score: SpreadScore): number {
  const sum = score.logWidening.reduce((total, value) => total + value, 0);
  return Math.exp(sum / score.logWidening.length);
}
