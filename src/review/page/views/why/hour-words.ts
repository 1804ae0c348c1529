import type { HoursQuantiles } from '../../../../../shared/facts/forecast.js';
import { numberWords } from '../../texts/amounts/amounts.js';
import type { Texts } from '../../texts/texts.js';

/** The contract's `FORECAST_HORIZON_H`; importing it would bring the schemas' library onto the phone. */
const HORIZON_H = 120;
/** Less than this is told as minutes, more than this as whole hours. */
const HOURS_FROM_H = 1;
const TENTHS_TO_H = 10;
const MINUTE_STEP = 5;
/** Differences under this are none, h. */
const LEAST_H = 0.05;

/** Hours with their unit, as exact as they are worth. */
export function spanWords(hours: number, texts: Texts): string {
  if (hours < HOURS_FROM_H)
    return `${numberWords(Math.max(MINUTE_STEP, Math.round((hours * 60) / MINUTE_STEP) * MINUTE_STEP), 0)} ${texts.hours.minutesShort}`;
  const tenths = Math.round(hours * 10) / 10;
  return `${numberWords(tenths, tenths < TENTHS_TO_H ? 1 : 0)} ${texts.hours.hoursShort}`;
}

/** When a quantile lies, in words. */
export function standWords(hours: number | null, texts: Texts): string {
  if (hours === null) return texts.why.fiveDays;
  return hours <= 0 ? texts.hours.dryNow : spanWords(hours, texts);
}

/** Hours on a drawing: beyond the horizon is its end. */
export const drawnH = (hours: number | null): number => hours ?? HORIZON_H;

/** What one forecast makes of another: later or sooner, and else how sure. */
export function effectWords(from: HoursQuantiles, to: HoursQuantiles, texts: Texts): string {
  const words = texts.why;
  const moved = drawnH(to.p50) - drawnH(from.p50);
  const wider = drawnH(to.p90) - drawnH(to.p10) - (drawnH(from.p90) - drawnH(from.p10));
  if (Math.abs(moved) >= LEAST_H) {
    const known = spanWords(Math.abs(moved), texts);
    const span = from.p50 === null || to.p50 === null ? words.atLeast(known) : known;
    return moved > 0 ? words.later(span) : words.sooner(span);
  }
  if (Math.abs(wider) < LEAST_H) return words.same;
  const span = spanWords(Math.abs(wider), texts);
  return wider > 0 ? words.lessSure(span) : words.surer(span);
}
