import { DAYS_PER_WEEK, MS_PER_DAY } from '../../../../shared/base/time-units.js';

/** A week of the calendar, Monday to Sunday, by its number of ISO 8601. */
export interface Week {
  readonly number: number;
  readonly fromDay: string;
  readonly toDay: string;
}

const THURSDAY = 4;
const dayOf = (atMs: number): string => new Date(atMs).toISOString().slice(0, 10);

/** The week of a day ("2026-05-15") and those before it, newest first. */
export function weeksBefore(day: string, count: number): Week[] {
  const todayMs = Date.parse(day);
  // ISO 8601: Monday is 1, Sunday 7; a week belongs to the year of its Thursday
  const weekday = new Date(todayMs).getUTCDay() || DAYS_PER_WEEK;
  const mondayMs = todayMs - (weekday - 1) * MS_PER_DAY;
  return Array.from({ length: count }, (_, back) => {
    const fromMs = mondayMs - back * DAYS_PER_WEEK * MS_PER_DAY;
    const thursdayMs = fromMs + (THURSDAY - 1) * MS_PER_DAY;
    const yearMs = Date.UTC(new Date(thursdayMs).getUTCFullYear(), 0, 1);
    return {
      number: 1 + Math.floor((thursdayMs - yearMs) / (DAYS_PER_WEEK * MS_PER_DAY)),
      fromDay: dayOf(fromMs),
      toDay: dayOf(fromMs + (DAYS_PER_WEEK - 1) * MS_PER_DAY),
    };
  });
}
