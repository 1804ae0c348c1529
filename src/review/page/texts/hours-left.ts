import type { HoursQuantiles } from '../../../../shared/facts/forecast.js';
import { percentWords } from './amounts/amounts.js';
import type { Texts } from './texts.js';

/** Beyond this, hours are told as days and hours. */
const HOURS_TOLD_TO = 36;

/** A figure with its unit, set apart so that the figure can stand large. */
export interface Figure {
  readonly figure: string;
  readonly unit: string;
}

/** Hours left as a large figure; null is beyond the forecast's horizon, 0 is dry now. */
export function hoursFigure(hours: number | null, texts: Texts): Figure {
  const words = texts.hours;
  if (hours === null) return { figure: words.beyondFigure, unit: words.daysShort };
  if (hours <= 0) return { figure: words.dryNow, unit: '' };
  const minutes = Math.max(5, Math.round((hours * 60) / 5) * 5);
  if (minutes < 60) return { figure: String(minutes), unit: words.minutesShort };
  const whole = Math.round(hours);
  if (whole <= HOURS_TOLD_TO) return { figure: String(whole), unit: words.hoursShort };
  // Rounded down: who comes a little early loses nothing.
  const halfDays = Math.floor(hours / 12) / 2;
  return {
    figure: `${Math.floor(halfDays)}${halfDays % 1 === 0 ? '' : '½'}`,
    unit: words.daysShort,
  };
}

function joined(figure: Figure): string {
  return figure.unit === '' ? figure.figure : `${figure.figure} ${figure.unit}`;
}

/** "5–10 h", or "40 min – 3 h" where the units differ; one value when both ends read the same. */
export function hoursRange(range: HoursQuantiles, texts: Texts): string {
  const low = hoursFigure(range.p10, texts);
  const high = hoursFigure(range.p90, texts);
  if (joined(low) === joined(high)) return joined(low);
  return low.unit === high.unit
    ? `${low.figure}–${high.figure} ${high.unit}`
    : `${joined(low)} – ${joined(high)}`;
}

/** The same for a screen reader and a sentence: "7 h, from 5 to 10 h". */
export function hoursSpoken(range: HoursQuantiles, texts: Texts): string {
  const middle = joined(hoursFigure(range.p50, texts));
  const low = joined(hoursFigure(range.p10, texts));
  const high = joined(hoursFigure(range.p90, texts));
  return texts.hours.spoken(middle, low, high);
}

/** How long the driest blocks last, for a screen reader. */
export function leftSpoken(range: HoursQuantiles, texts: Texts): string {
  return range.p50 !== null && range.p50 <= 0 && (range.p90 ?? 1) <= 0
    ? texts.now.leftSpokenDry
    : texts.now.leftSpoken(hoursSpoken(range, texts));
}

/** How full a block is between its refill point and its capacity; nothing where that is not known. */
export function fullWords(moistureIndex: number | undefined, texts: Texts): string {
  if (moistureIndex === undefined) return '';
  return moistureIndex < 0 ? texts.now.belowRefill : texts.now.fullShare(percentWords(moistureIndex));
}
