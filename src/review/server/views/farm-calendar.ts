import { IANAZone } from 'luxon';
import { MS_PER_DAY, MS_PER_HOUR, MS_PER_MIN } from '../../../../shared/base/time-units.js';

/** Days and months on the farm's own calendar. */
export interface FarmCalendar {
  /** "2026-04-15" */
  dayOf(atMs: number): string;
  /** 1 to 12 */
  monthOf(atMs: number): number;
  /** Every day that a span touches, in order. */
  days(fromMs: number, toMs: number): string[];
}

/** Instants of one hour share their day where zones shift by whole or half hours, so a quarter is what is kept. */
const KEPT_STEP_MS = MS_PER_HOUR / 4;

/** ISO 8601 dates sort as text; a date has no time zone, so the next one needs none either. */
const dayAfter = (day: string): string => new Date(Date.parse(day) + MS_PER_DAY).toISOString().slice(0, 10);

export function farmCalendar(timeZone: string): FarmCalendar {
  const zone = IANAZone.create(timeZone);
  const known = new Map<number, string>();
  const dayOf = (atMs: number): string => {
    const step = Math.floor(atMs / KEPT_STEP_MS);
    const before = known.get(step);
    if (before !== undefined) return before;
    const beginMs = step * KEPT_STEP_MS;
    const day = new Date(beginMs + zone.offset(beginMs) * MS_PER_MIN).toISOString().slice(0, 10);
    known.set(step, day);
    return day;
  };
  return {
    dayOf,
    monthOf: (atMs) => Number(dayOf(atMs).slice(5, 7)),
    days: (fromMs, toMs) => {
      const days = [dayOf(fromMs)];
      const last = dayOf(toMs - 1);
      for (let day = days[0] ?? last; day < last; days.push(day)) day = dayAfter(day);
      return days;
    },
  };
}
