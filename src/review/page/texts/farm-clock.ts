import { MS_PER_DAY, MS_PER_MIN } from '../../../../shared/base/time-units.js';
import type { Texts } from './texts.js';

/** Instants in the words of the farm's own clock. */
export interface FarmClockWords {
  /** "18:05" */
  timeOfDay(atMs: number): string;
  /** "18:00", "tomorrow 07:00", "yesterday 18:00", "Fri 07:00", "12 Apr 07:00": shortest that is clear from `nowMs`. */
  when(atMs: number, nowMs: number): string;
  /** "Wed 15 Apr" */
  day(atMs: number): string;
  /** "15 Apr" */
  shortDay(atMs: number): string;
  /** "15 Apr 2026, 18:05" */
  full(atMs: number): string;
  /** "2026-04-15": the farm's calendar day. */
  dayKey(atMs: number): string;
}

/** Words for instants in one time zone. A formatter is slow to make: each is made when it is first needed, and kept. */
export function farmClockWords(timeZone: string, texts: Texts): FarmClockWords {
  const inTime = (options: Intl.DateTimeFormatOptions): (() => Intl.DateTimeFormat) => {
    let made: Intl.DateTimeFormat | undefined;
    return () => {
      made ??= new Intl.DateTimeFormat(texts.locale, { timeZone, hourCycle: 'h23', ...options });
      return made;
    };
  };
  const time = inTime({ hour: '2-digit', minute: '2-digit' });
  const weekday = inTime({ weekday: 'short' });
  const dayMonth = inTime({ day: 'numeric', month: 'short' });
  const dayLong = inTime({ weekday: 'short', day: 'numeric', month: 'short' });
  const full = inTime({
    day: 'numeric',
    month: 'short',
    year: 'numeric',
    hour: '2-digit',
    minute: '2-digit',
  });
  // in the page's own locale, whose tables are loaded already, by the parts that every locale has
  const key = inTime({
    calendar: 'gregory',
    numberingSystem: 'latn',
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
  });
  const dayKey = (atMs: number): string => {
    const parts = key().formatToParts(atMs);
    const part = (type: 'year' | 'month' | 'day'): string =>
      parts.find((one) => one.type === type)?.value.padStart(2, '0') ?? '';
    return `${part('year')}-${part('month')}-${part('day')}`;
  };
  return {
    timeOfDay: (atMs) => time().format(atMs),
    when: (atMs, nowMs) => {
      const clock = time().format(atMs);
      const day = dayKey(atMs);
      if (day === dayKey(nowMs)) return clock;
      if (day === dayKey(nowMs + MS_PER_DAY)) return `${texts.clock.tomorrow} ${clock}`;
      if (day === dayKey(nowMs - MS_PER_DAY)) return `${texts.clock.yesterday} ${clock}`;
      const nearAhead = atMs > nowMs && atMs - nowMs < 6 * MS_PER_DAY;
      return `${nearAhead ? weekday().format(atMs) : dayMonth().format(atMs)} ${clock}`;
    },
    day: (atMs) => dayLong().format(atMs),
    shortDay: (atMs) => dayMonth().format(atMs),
    full: (atMs) => full().format(atMs),
    dayKey,
  };
}

/** How long ago, coarse: "now", "4 min ago", "3 h ago", "2 d ago". */
export function agoWords(elapsedMs: number, texts: Texts): string {
  const minutes = Math.floor(elapsedMs / MS_PER_MIN);
  if (minutes < 1) return texts.clock.justNow;
  if (minutes < 90) return texts.clock.ago(`${minutes} ${texts.hours.minutesShort}`);
  const hours = Math.round(minutes / 60);
  if (hours < 36) return texts.clock.ago(`${hours} ${texts.hours.hoursShort}`);
  return texts.clock.ago(`${Math.round(hours / 24)} ${texts.hours.daysShort}`);
}
