import { DateTime } from 'luxon';

/** Languages in which the farm writes its times, and so in which they may be typed back. */
const LOCALES = ['en-GB', 'es-ES'];
/** Days from today by their names. */
const NAMED: Readonly<Record<string, number>> = {
  today: 0,
  hoy: 0,
  yesterday: -1,
  ayer: -1,
  tomorrow: 1,
  manana: 1,
};
/** Three letters tell weekdays from each other, and months, in each of the languages. */
const LETTERS = 3;
const MONTHS = 12;
const WEEKDAYS = 7;

const plain = (word: string): string =>
  word
    .toLowerCase()
    .normalize('NFD')
    .replace(/\p{M}|[.,]/gu, '');

/** What each language calls so many days from a Monday or months from a January, by its first letters. */
function names(
  count: number,
  unit: 'days' | 'months',
  part: 'weekday' | 'month',
): ReadonlyMap<string, number> {
  const first = DateTime.utc(2024, 1, 1);
  return new Map(
    LOCALES.flatMap((locale) =>
      Array.from({ length: count }, (_, index): [string, number] => {
        const name = first.plus({ [unit]: index }).toLocaleString({ [part]: 'long' }, { locale });
        return [plain(name).slice(0, LETTERS), index + 1];
      }),
    ),
  );
}

const nameIn = (known: ReadonlyMap<string, number>, word: string): number | undefined =>
  word.length < LETTERS ? undefined : known.get(word.slice(0, LETTERS));

/**
 * The beginnings of the days that may be meant by a day as the farm writes it: "tomorrow", "Thu", "Thu 30 Apr", "30 April 2026",
 * "mañana", "jue 30 abr". Without a year, or by its weekday, there are several, in order. Empty when it is none.
 */
export function daysMeant(text: string, now: DateTime): readonly DateTime[] {
  const words = plain(text)
    .split(/\s+/)
    .filter((word) => word !== '' && word !== 'el');
  const today = now.startOf('day');
  const [first = '', ...rest] = words;
  const named = NAMED[first];
  if (named !== undefined && rest.length === 0) return [today.plus({ days: named })];
  const weekday = nameIn(names(WEEKDAYS, 'days', 'weekday'), first);
  if (weekday !== undefined && rest.length === 0)
    return [-1, 0, 1].map((weeks) => today.plus({ days: weekday - today.weekday, weeks }));
  const [day = '', monthName = '', year, ...more] = weekday === undefined ? words : rest;
  const month = nameIn(names(MONTHS, 'months', 'month'), monthName);
  if (!/^\d{1,2}$/.test(day) || month === undefined || more.length > 0) return [];
  if (year !== undefined && !/^\d{4}$/.test(year)) return [];
  const years = year === undefined ? [-1, 0, 1].map((by) => today.year + by) : [Number(year)];
  return years
    .map((one) => DateTime.fromObject({ year: one, month, day: Number(day) }, { zone: today.zone }))
    .filter(({ isValid }) => isValid);
}
