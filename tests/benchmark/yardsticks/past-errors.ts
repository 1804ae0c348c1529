import { capped, type HoursTriple } from '../forecaster.js';

const MAX_KEPT = 400;
/** Spread before anything is known, natural logarithm: a napkin rule is off by half as often as not. */
const FIRST_GUESS_SD = 0.5;
const FIRST_GUESSES = [-1.28, -0.84, -0.52, -0.25, 0, 0.25, 0.52, 0.84, 1.28].map((z) => z * FIRST_GUESS_SD);
/** Added to both sides before the ratio, so that hours near zero do not explode. */
const OFFSET_H = 0.5;

function band(hours: number): number {
  return hours < 6 ? 0 : hours < 24 ? 1 : 2;
}

/** How a rule's own earlier forecasts came true, by band: its honest widths, and the correction of its middle. */
export class PastErrors {
  private readonly bands: number[][] = [[...FIRST_GUESSES], [...FIRST_GUESSES], [...FIRST_GUESSES]];

  add(forecastH: number, cameTrueH: number): void {
    const kept = this.bands[band(forecastH)];
    if (kept === undefined) return;
    kept.push(Math.log((cameTrueH + OFFSET_H) / (forecastH + OFFSET_H)));
    if (kept.length > MAX_KEPT) kept.splice(FIRST_GUESSES.length, kept.length - MAX_KEPT);
  }

  triple(forecastH: number): HoursTriple {
    const sorted = [...(this.bands[band(forecastH)] ?? FIRST_GUESSES)].sort((a, b) => a - b);
    const at = (q: number): number => {
      const ratio = sorted[Math.round(q * (sorted.length - 1))] ?? 0;
      return capped((forecastH + OFFSET_H) * Math.exp(ratio) - OFFSET_H);
    };
    return { p10: at(0.1), p50: at(0.5), p90: at(0.9) };
  }
}
