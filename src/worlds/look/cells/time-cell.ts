import { MS_PER_MIN } from '../../../../shared/base/time-units.js';
/** What one cell says of a time, before it is known which number is the day. */
export interface TimeCell {
  /** The date's three numbers as they stand; a month written in letters is already a number. */
  readonly date: readonly [number, number, number] | undefined;
  /** Which orders the writing itself leaves open. */
  readonly orders: readonly DateOrder[];
  /** Milliseconds since midnight. */
  readonly clockMs: number | undefined;
  readonly hasHalfDays: boolean;
  /** Minutes east of UTC, where the cell says so. */
  readonly offsetMin: number | undefined;
}

export type DateOrder = 'ymd' | 'dmy' | 'mdy';

const MIN_PER_H = 60;
const NOON_H = 12;
const YEAR_DIGITS = 4;
const MONTHS = [
  /^(jan|ene|gen)/,
  /^(feb|fev|fév)/,
  /^(mar|mär|mrz|maa)/,
  /^(apr|abr|avr)/,
  /^(may|mai|mag|mei)/,
  /^(jun|juin|giu)/,
  /^(jul|juil|lug)/,
  /^(aug|ago|aou|aoû)/,
  /^(sep|set)/,
  /^(oct|okt|ott|out)/,
  /^(nov)/,
  /^(dec|dez|dic|déc)/,
];

const CLOCK =
  /(?<![\d.])(?<h>\d{1,2}):(?<min>\d{2})(?::(?<s>\d{2})(?:[.,](?<fraction>\d{1,9}))?)?\s*(?<half>[ap]\.?\s?m\.?)?/iu;
const OFFSET =
  /\s*(?:(?:utc|gmt)?\s?(?<sign>[+-])(?<h>\d{1,2}):?(?<min>\d{2})?|(?<zulu>z|utc|gmt))(?:\[[^\]]*\])?$/iu;
const COMPACT = /^(?<y>(?:19|20)\d{2})(?<m>\d{2})(?<d>\d{2})[T ]?(?<h>\d{2})(?<min>\d{2})(?<s>\d{2})?$/;
/** ISO 8601's basic form with its offset: 20260514T0600Z, 20260514T060000+0200. */
const BASIC = /^(\d{8}T\d{2})(\d{2})(\d{2})?(?=Z$|[+-]\d{2}:?\d{2}$)/i;
const COMPACT_DATE = /^((?:19|20)\d{2})(\d{2})(\d{2})$/;
const NUMERIC_DATE = /^(\d{1,4})([./\- ])(\d{1,2})\2(\d{1,4})\.?$/;
const DAY_AND_NAME = /^(\d{1,2})[. \-/]+([\p{L}]{3,})\.?[ \-/,]+(\d{2,4})$/u;
const NAME_AND_DAY = /^([\p{L}]{3,})\.?[ -]+(\d{1,2})(?:st|nd|rd|th)?,?[ -]+(\d{4})$/u;
const WEEKDAY =
  /^(?:mon|tue|wed|thu|fri|sat|sun|mo|di|mi|do|fr|sa|so|lun|mar|mié|mie|jue|vie|sáb|sab|dom)[\p{L}]*\.?,?\s+(?=\S)/iu;

const century = (year: number, digits: number): number => (digits <= 2 ? 2000 + year : year);

function monthOf(name: string): number | undefined {
  const index = MONTHS.findIndex((pattern) => pattern.test(name.toLowerCase()));
  return index < 0 ? undefined : index + 1;
}

interface DatePart {
  readonly date: readonly [number, number, number];
  readonly orders: readonly DateOrder[];
}

function namedDate(day: string, name: string, year: string): DatePart | undefined {
  const month = monthOf(name);
  if (month === undefined) return undefined;
  return { date: [century(Number(year), year.length), month, Number(day)], orders: ['ymd'] };
}

function dateOf(text: string): DatePart | undefined {
  const compact = COMPACT_DATE.exec(text);
  if (compact !== null)
    return { date: [Number(compact[1]), Number(compact[2]), Number(compact[3])], orders: ['ymd'] };
  const dayFirst = DAY_AND_NAME.exec(text);
  if (dayFirst !== null) return namedDate(dayFirst[1] ?? '', dayFirst[2] ?? '', dayFirst[3] ?? '');
  const nameFirst = NAME_AND_DAY.exec(text);
  if (nameFirst !== null) return namedDate(nameFirst[2] ?? '', nameFirst[1] ?? '', nameFirst[3] ?? '');
  const numeric = NUMERIC_DATE.exec(text);
  if (numeric === null) return undefined;
  const [, first = '', separator, second = '', third = ''] = numeric;
  if (first.length === YEAR_DIGITS && third.length <= 2)
    return { date: [Number(first), Number(second), Number(third)], orders: ['ymd'] };
  if (first.length > 2 || (third.length !== 2 && third.length !== YEAR_DIGITS)) return undefined;
  const year = century(Number(third), third.length);
  // Between points the day stands first wherever dates are written so (common practice: DIN 1355, most of Europe).
  const open: readonly DateOrder[] = separator === '.' ? ['dmy'] : ['dmy', 'mdy'];
  const date = [Number(first), Number(second), year] as const;
  return { date, orders: third.length === 2 && separator !== '.' ? [...open, 'ymd'] : open };
}

function clockOf(parts: Record<string, string | undefined>): number | undefined {
  const half = parts['half']?.[0]?.toLowerCase();
  let hour = Number(parts['h']);
  if (half !== undefined) {
    if (hour < 1 || hour > NOON_H) return undefined;
    hour = (hour % NOON_H) + (half === 'p' ? NOON_H : 0);
  }
  const [minute, second] = [Number(parts['min'] ?? 0), Number(parts['s'] ?? 0)];
  if (hour > 24 || minute >= MIN_PER_H || second >= MIN_PER_H) return undefined;
  const fraction = Number(`0.${parts['fraction'] ?? 0}`);
  return (hour * MIN_PER_H + minute) * MS_PER_MIN + Math.round((second + fraction) * 1000);
}

/** Takes a cell apart; undefined where it holds neither a date nor a time of day. */
export function readTimeCell(cell: string): TimeCell | undefined {
  const text = cell
    .trim()
    .replace(WEEKDAY, '')
    .replace(BASIC, (_, hour: string, min: string, sec = '00') => `${hour}:${min}:${sec}`);
  if (text.length < 4 || text.length > 60 || !/\d/.test(text)) return undefined;
  const compact = COMPACT.exec(text)?.groups;
  if (compact !== undefined)
    return {
      date: [Number(compact['y']), Number(compact['m']), Number(compact['d'])],
      orders: ['ymd'],
      clockMs: clockOf(compact),
      hasHalfDays: false,
      offsetMin: undefined,
    };
  const clock = CLOCK.exec(text);
  if (clock === null) {
    const part = dateOf(text);
    return part === undefined
      ? undefined
      : { ...part, clockMs: undefined, hasHalfDays: false, offsetMin: undefined };
  }
  const clockMs = clockOf(clock.groups ?? {});
  if (clockMs === undefined) return undefined;
  const before = text.slice(0, clock.index);
  let after = text.slice(clock.index + clock[0].length);
  const offset = OFFSET.exec(after);
  if (offset !== null) after = after.slice(0, offset.index);
  const rest = `${before} ${after}`
    .replace(/T\s*$/, '')
    .replace(/^[\s,;]+|[\s,;]+$/g, '')
    .replace(/T\s/, '')
    .trim();
  const hasHalfDays = clock.groups?.['half'] !== undefined;
  const parts = { clockMs, hasHalfDays, offsetMin: offsetOf(offset) };
  if (rest === '') return { date: undefined, orders: [], ...parts };
  const part = dateOf(rest);
  return part === undefined ? undefined : { ...part, ...parts };
}

function offsetOf(match: RegExpExecArray | null): number | undefined {
  const parts = match?.groups;
  if (parts === undefined) return undefined;
  if (parts['zulu'] !== undefined) return 0;
  const minutes = Number(parts['h']) * MIN_PER_H + Number(parts['min'] ?? 0);
  return parts['sign'] === '-' ? -minutes : minutes;
}

/** Local milliseconds (as if the clock were UTC) of a date in one order at a time of day; undefined where there is no such day. */
export function localMs(
  date: readonly [number, number, number],
  order: DateOrder,
  clockMs: number,
): number | undefined {
  const [first, second, third] = date;
  const [year, month, day] =
    order === 'ymd'
      ? [century(first, first > 99 ? YEAR_DIGITS : 2), second, third % 2000 === third ? third : third - 2000]
      : order === 'dmy'
        ? [third, second, first]
        : [third, first, second];
  const midnightMs = Date.UTC(year, month - 1, day);
  const back = new Date(midnightMs);
  if (month < 1 || month > 12 || back.getUTCMonth() !== month - 1 || back.getUTCDate() !== day)
    return undefined;
  return midnightMs + clockMs;
}
