import { IANAZone } from 'luxon';
import { MS_PER_DAY, MS_PER_MIN } from '../../../../shared/base/time-units.js';

/** Days and months on the farm's own calendar. */
export interface FarmCalendar {
  /** "2026-04-15" */
  dayOf(atMs: number): string;
  /** 1 to 12 */
  monthOf(atMs: number): number;
  /** Every day that a span touches, in order. */
  days(fromMs: number, toMs: number): string[];
}

/** ISO 8601 dates sort as text; a date has no time zone, so the next one needs none either. */
const dayAfter = (day: string): string => new Date(Date.parse(day) + MS_PER_DAY).toISOString().slice(0, 10);

export function farmCalendar(timeZone: string): FarmCalendar {
  const zone = IANAZone.create(timeZone);
  const atMidnight = new Map<number, number>();
  const offsetAtMidnight = (day: number): number => {
    const known = atMidnight.get(day) ?? zone.offset(day * MS_PER_DAY);
    atMidnight.set(day, known);
    return known;
  };
  /** The zone is asked twice for a day in UTC, and for an instant only on a day on which the clocks change: asking is slow. */
  const offsetMin = (atMs: number): number => {
    const day = Math.floor(atMs / MS_PER_DAY);
    const before = offsetAtMidnight(day);
    return offsetAtMidnight(day + 1) === before ? before : zone.offset(atMs);
  };
  const dayOf = (atMs: number): string =>
    new Date(atMs + offsetMin(atMs) * MS_PER_MIN).toISOString().slice(0, 10);
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
