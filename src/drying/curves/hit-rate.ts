import type { ModelEvent } from '../farm-model.js';

export type ForecastOutcome = Extract<ModelEvent, { kind: 'forecast-came-true' }>;

/** How forecasts of one lead did, in water content. */
export interface HitRate {
  readonly fromLeadH: number;
  readonly belowLeadH: number;
  readonly outcomeCount: number;
  /** Share of outcomes within p10 to p90; 0.8 is honest. Null without outcomes. */
  readonly insideShare: number | null;
  /** Mean of forecast p50 minus what came, m3/m3: above 0, blocks dried faster than forecast. */
  readonly meanErrorM3PerM3: number | null;
  readonly meanAbsoluteErrorM3PerM3: number | null;
}

/** Bands of lead that the forecast's targets are given for, and what is longer. */
const LEAD_BANDS_H = [
  [0, 6],
  [6, 24],
  [24, 72],
  [72, Number.POSITIVE_INFINITY],
] as const;

/** Forecasts' hit rate by lead. */
export function hitRates(outcomes: readonly ForecastOutcome[]): readonly HitRate[] {
  return LEAD_BANDS_H.map(([fromLeadH, belowLeadH]) => {
    const ofBand = outcomes.filter(({ leadH }) => leadH >= fromLeadH && leadH < belowLeadH);
    const errors = ofBand.map((one) => one.forecastWaterContentM3PerM3.p50 - one.waterContentM3PerM3);
    const inside = ofBand.filter(
      ({ waterContentM3PerM3: came, forecastWaterContentM3PerM3: said }) =>
        came >= said.p10 && came <= said.p90,
    );
    return {
      fromLeadH,
      belowLeadH,
      outcomeCount: ofBand.length,
      insideShare: ofBand.length === 0 ? null : inside.length / ofBand.length,
      meanErrorM3PerM3: mean(errors),
      meanAbsoluteErrorM3PerM3: mean(errors.map(Math.abs)),
    };
  });
}

function mean(values: readonly number[]): number | null {
  return values.length === 0 ? null : values.reduce((sum, value) => sum + value, 0) / values.length;
}
