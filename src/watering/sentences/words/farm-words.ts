import { MS_PER_DAY, MS_PER_HOUR } from '../../../../shared/base/time-units.js';
import type { UnitsConfig } from '../../../../shared/config/notices.js';
import { sideWords, type ToldAmount, toldVolume, toldWeight } from './told-amounts.js';
import type { WordForms } from './word-forms.js';

/** Times of a forecast are told to this step. */
const TOLD_STEP_MS = 600_000;
/** Beyond this many days a weekday alone could be that of another week. */
const MOST_DAYS_BY_NAME = 6;
/** Beyond this many days a date alone could be that of another year. */
const MOST_DAYS_WITHOUT_YEAR = 180;
/** Within this time an hour alone is clear. */
const SAME_NIGHT_MS = 18 * MS_PER_HOUR;

/** Times, amounts and sizes in the farm's zone, units and language. */
export interface FarmWords {
  /** "18:00"; with the day where the hour alone would mislead: "tomorrow 07:00", "Thu 07:00", "Thu 7 May 07:00". */
  readonly time: (atMs: number, nowMs: number) => string;
  /** The time of a forecast, to ten minutes: "about 02:40". */
  readonly about: (atMs: number, nowMs: number) => string;
  /** "the 18:00 round", "tomorrow's 07:00 round". */
  readonly round: (atMs: number, nowMs: number) => string;
  /** Weekday and time, with the date where the weekday could be another week's, and the year where that could be another's: "Thu 18:00". */
  readonly weekdayTime: (atMs: number, nowMs: number) => string;
  /** With weekday, date and year, for what is read long after: "Thu, 7 May 2026, 18:00". */
  readonly dated: (atMs: number) => string;
  /** "18:00", whatever the day. */
  readonly clock: (atMs: number) => string;
  readonly volume: (ml: number) => string;
  /** "150 to 420 mL". */
  readonly volumes: (leastMl: number, mostMl: number) => string;
  /** "2140 g", "4 lb 11.5 oz". */
  readonly weight: (g: number) => string;
  /** As finely as a scale for blocks shows it: "64.9 g", "2.29 oz". */
  readonly fineWeight: (g: number) => string;
  readonly temperature: (celsius: number) => string;
  /** To whole degrees: "21 °C", "140 °F". */
  readonly degrees: (celsius: number) => string;
  /** The side of a block: "38 mm", "1 1/2 in". */
  readonly side: (sideMm: number) => string;
  /** "minis" for the smallest blocks, else their side: "38 mm blocks", "1 1/2 in blocks". */
  readonly blocks: (sideMm: number) => string;
  /** "280 minis", "72 blocks of 38 mm". */
  readonly blocksCounted: (count: number, sideMm: number) => string;
}

/** The smallest common block, 3/4 in, is called a mini; anything up to 22 mm is one. */
const MINI_SIDE_MM = 22;
/** Formatters for one farm; made once, since those of Intl are costly. */
export function createFarmWords(timeZone: string, units: UnitsConfig, forms: WordForms): FarmWords {
  const { locale } = forms;
  const clockFormat = new Intl.DateTimeFormat(locale, {
    timeZone,
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
  });
  const weekdayTime = {
    timeZone,
    weekday: 'short',
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
  } as const;
  const weekdayTimeFormat = new Intl.DateTimeFormat(locale, weekdayTime);
  const datedTime = { ...weekdayTime, day: 'numeric', month: 'short' } as const;
  const datedTimeFormat = new Intl.DateTimeFormat(locale, datedTime);
  const longAgoFormat = new Intl.DateTimeFormat(locale, { ...datedTime, year: 'numeric' });
  const weekdayFormat = new Intl.DateTimeFormat(locale, { timeZone, weekday: 'short' });
  const dayFormat = new Intl.DateTimeFormat(locale, { timeZone, day: 'numeric', month: 'short' });
  const dateFormat = new Intl.DateTimeFormat('en-CA', {
    timeZone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
  });
  /** Days on the farm's calendar, counted from 1970; a day of 23 or 25 hours is one. */
  const calendarDay = (atMs: number): number => Date.parse(`${dateFormat.format(atMs)}T00:00Z`) / MS_PER_DAY;
  /** "" where the hour alone is clear, else "tomorrow", "Thu", "Thu 7 May". */
  const dayName = (atMs: number, nowMs: number): string => {
    if (atMs >= nowMs && atMs - nowMs < SAME_NIGHT_MS) return '';
    const days = calendarDay(atMs) - calendarDay(nowMs);
    if (days === 0) return '';
    if (days === 1) return forms.days.tomorrow;
    if (days === -1) return forms.days.yesterday;
    const weekday = weekdayFormat.format(atMs);
    if (Math.abs(days) <= MOST_DAYS_BY_NAME) return weekday;
    const year = Math.abs(days) < MOST_DAYS_WITHOUT_YEAR ? '' : ` ${dateFormat.format(atMs).slice(0, 4)}`;
    return `${weekday} ${dayFormat.format(atMs)}${year}`;
  };
  const formats = new Map<string, Intl.NumberFormat>();
  /** As for a reader who counts along: "1250", "1.5"; no marks between thousands. */
  const number = (value: number, leastDecimals: number, mostDecimals: number): string => {
    const key = `${leastDecimals} ${mostDecimals}`;
    const format =
      formats.get(key) ??
      new Intl.NumberFormat(locale, {
        maximumFractionDigits: mostDecimals,
        minimumFractionDigits: leastDecimals,
        useGrouping: false,
      });
    formats.set(key, format);
    return format.format(value);
  };
  const figure = ({ value, leastDecimals, mostDecimals }: ToldAmount): string =>
    number(value, leastDecimals, mostDecimals);
  const withUnit = (told: ToldAmount): string => `${figure(told)} ${told.unit}`;
  const side = (mm: number): string => sideWords(mm, units);
  const sideUnlessMini = (mm: number): string | undefined => (mm <= MINI_SIDE_MM ? undefined : side(mm));
  const volume = (ml: number): ToldAmount => toldVolume(ml, units.volume);
  const inFarmUnit = (celsius: number): number =>
    units.temperature === 'C' ? celsius : (celsius * 9) / 5 + 32;

  return {
    side,
    clock: (atMs) => clockFormat.format(atMs),
    weekdayTime(atMs, nowMs) {
      const days = Math.abs(nowMs - atMs) / MS_PER_DAY;
      if (days < MOST_DAYS_BY_NAME) return weekdayTimeFormat.format(atMs);
      return (days < MOST_DAYS_WITHOUT_YEAR ? datedTimeFormat : longAgoFormat).format(atMs);
    },
    dated: (atMs) => longAgoFormat.format(atMs),
    time: (atMs, nowMs) => forms.time(dayName(atMs, nowMs), clockFormat.format(atMs)),
    about(atMs, nowMs) {
      const toldMs = Math.round(atMs / TOLD_STEP_MS) * TOLD_STEP_MS;
      return forms.about(dayName(toldMs, nowMs), clockFormat.format(toldMs));
    },
    round: (atMs, nowMs) => forms.round(dayName(atMs, nowMs), clockFormat.format(atMs)),
    volume: (ml) => withUnit(volume(ml)),
    volumes(leastMl, mostMl) {
      const [least, most] = [volume(leastMl), volume(mostMl)];
      return forms.range((least.unit === most.unit ? figure : withUnit)(least), figure(most), most.unit);
    },
    weight: (g) => toldWeight(g, units.weight).map(withUnit).join(' '),
    fineWeight: (g) => toldWeight(g, units.weight, true).map(withUnit).join(' '),
    temperature: (celsius) => `${number(inFarmUnit(celsius), 1, 1)} °${units.temperature}`,
    degrees: (celsius) => `${Math.round(inFarmUnit(celsius))} °${units.temperature}`,
    blocks: (sideMm) => forms.blocks(sideUnlessMini(sideMm)),
    blocksCounted: (count, sideMm) => forms.blocksCounted(count, sideUnlessMini(sideMm)),
  };
}
