import type { z } from 'zod';
import { idSchema, timeOfDaySchema } from '../../../../shared/base/ids.js';
import { LANGUAGES, type Language } from '../../../../shared/base/language.js';
import type { UnitsConfig } from '../../../../shared/config/notices.js';
import { didYouMean } from '../../../watering/sentences/words/did-you-mean.js';
import { type FirstFarm, jsonLine } from '../../config/write-config.js';
import { BadWord } from '../../terminal/typed/bad-word.js';
import { METRIC, readUnits, US } from '../../terminal/typed/typed-units.js';
import { townOf } from './zone-town.js';

/** One thing that init asks. */
export interface Question {
  /** Name of its option, and under which its answer is kept. */
  readonly key: 'farm' | 'timeZone' | 'place' | 'rounds' | 'language' | 'units' | 'benches' | 'limits';
  readonly words: (farm: FirstFarm) => string;
  /** What stands now, as it would be typed. */
  readonly now: (farm: FirstFarm) => string;
  /** The farm with the answer. Throws BadWord. */
  readonly read: (typed: string, farm: FirstFarm) => FirstFarm;
}

const NONE = 'none';
/**
 * Frost and heat that are called where nobody says otherwise: air at 2 °C means frost on the blocks of a clear night, and
 * lettuce stops germinating and most seedlings suffer above some 35 to 40 °C (common practice).
 */
export const USUAL_LIMITS_C = { low: 2, high: 38 } as const;
const FREEZING_F = 32;
const F_PER_C = 1.8;

export const unitsOfCountry = (country: string | undefined): UnitsConfig => (country === 'US' ? US : METRIC);

function checked(schema: z.ZodType<string>, word: string): string {
  const { error } = schema.safeParse(word);
  if (error !== undefined) throw new BadWord(`"${word}": ${error.issues[0]?.message ?? 'does not fit'}`);
  return word;
}

function words(typed: string): string[] {
  return typed.split(/[,\s]+/).filter((word) => word !== '');
}

function readZone(typed: string): string {
  try {
    new Intl.DateTimeFormat('en', { timeZone: typed });
    return typed;
  } catch (cause) {
    if (!(cause instanceof RangeError)) throw cause;
    const hint = didYouMean(typed, Intl.supportedValuesOf('timeZone'));
    throw new BadWord(`"${typed}" is no time zone; expected a name such as Europe/Berlin.${hint}`);
  }
}

/** `52.1, 9.9`, `52.1N 9.9E`, `36.8 S, 174.7 E`. */
function readPlace(typed: string): FirstFarm['place'] {
  if (typed.toLowerCase() === NONE) return undefined;
  const match = /^([+-]?[\d.]+)\s*°?\s*([NS]?)[,;\s]+([+-]?[\d.]+)\s*°?\s*([EWO]?)$/i.exec(typed.trim());
  const signed = (number: string | undefined, letter: string | undefined): number =>
    Number(number) * (/[SW]/i.test(letter ?? '') ? -1 : 1);
  const [latitude, longitude] = [signed(match?.[1], match?.[2]), signed(match?.[3], match?.[4])];
  if (match === null || !(Math.abs(latitude) <= 90) || !(Math.abs(longitude) <= 180))
    throw new BadWord(
      `"${typed}": expected latitude and longitude such as 52.1, 9.9 or 36.8S 174.7E, or ${NONE}`,
    );
  return { latitude, longitude };
}

/** The place of a zone's town, which is near enough for its season. */
export function placeOfTown(timeZone: string): FirstFarm['place'] {
  const town = townOf(timeZone);
  return town === undefined ? undefined : { latitude: town.latitude, longitude: town.longitude };
}

/** What a language is called in a language: "Spanish", "español". */
const nameIn = (language: Language, of: string): string =>
  new Intl.DisplayNames([of], { type: 'language' }).of(language) ?? language;

/** The language that a machine speaks, where the farm can be told in it. */
export const languageOfLocale = (locale: string): Language =>
  LANGUAGES.find((one) => locale.startsWith(one)) ?? LANGUAGES[0];

/** "es", "Spanish", "español", with or without its accents. */
function readLanguage(typed: string): Language {
  const plain = (word: string): string => word.toLowerCase().normalize('NFD').replace(/\p{M}/gu, '');
  const names = (one: Language): readonly string[] => [one, nameIn(one, 'en'), nameIn(one, one)].map(plain);
  const found = LANGUAGES.find((one) => names(one).includes(plain(typed)));
  if (found !== undefined) return found;
  throw new BadWord(
    `"${typed}": expected ${LANGUAGES.map((one) => `${nameIn(one, 'en')} (${one})`).join(' or ')}`,
  );
}

const unitsText = (units: UnitsConfig): string => {
  for (const [name, all] of [
    ['metric', METRIC],
    ['us', US],
  ] as const)
    if (jsonLine(all) === jsonLine(units)) return name;
  return Object.values(units).join(', ');
};

const toShown = (celsius: number, { temperature }: UnitsConfig): number =>
  temperature === 'C' ? celsius : Math.round(celsius * F_PER_C + FREEZING_F);
const toCelsius = (shown: number, { temperature }: UnitsConfig): number =>
  temperature === 'C' ? shown : Number(((shown - FREEZING_F) / F_PER_C).toFixed(1));

function readLimits(typed: string, farm: FirstFarm): FirstFarm {
  if (typed.toLowerCase() === NONE) return { ...farm, limitsC: undefined };
  if (typed === 'various') return { ...farm, limitsC: typed };
  const [low, high, ...more] = words(typed.replace(/°?[CF]\b/gi, '')).map(Number);
  if (low === undefined || high === undefined || more.length > 0 || !(low < high))
    throw new BadWord(
      `"${typed}": expected the colder and the hotter limit such as ${toShown(USUAL_LIMITS_C.low, farm.units)}, ${toShown(USUAL_LIMITS_C.high, farm.units)}, or ${NONE}`,
    );
  return { ...farm, limitsC: { low: toCelsius(low, farm.units), high: toCelsius(high, farm.units) } };
}

/** Everything that init asks, in this order. */
export const questions: readonly Question[] = [
  {
    key: 'farm',
    words: () => 'Name of the farm, letters, digits and -',
    now: ({ farm }) => farm,
    read: (typed, farm) => ({ ...farm, farm: checked(idSchema, typed) }),
  },
  {
    key: 'timeZone',
    words: () => 'Its time zone',
    now: ({ timeZone }) => timeZone,
    read: (typed, farm) => {
      const timeZone = readZone(typed);
      // a place that was only that of the old zone's town goes with it
      const isTown = jsonLine(farm.place ?? null) === jsonLine(placeOfTown(farm.timeZone) ?? null);
      return { ...farm, timeZone, ...(isTown ? { place: placeOfTown(timeZone) } : {}) };
    },
  },
  {
    key: 'place',
    words: () => "Its place, for the season's daylight: latitude, longitude of the nearest town, or none",
    now: ({ place }) => (place === undefined ? NONE : `${place.latitude}, ${place.longitude}`),
    read: (typed, farm) => ({ ...farm, place: readPlace(typed) }),
  },
  {
    key: 'rounds',
    words: () => 'When do you walk the benches',
    now: ({ rounds }) => (Array.isArray(rounds) ? rounds.join(', ') : jsonLine(rounds)),
    read: (typed, farm) => {
      const times = words(typed).map((word) =>
        checked(timeOfDaySchema, /^\d:/.test(word) ? `0${word}` : word),
      );
      if (times.length === 0) throw new BadWord('expected times of day such as 07:00, 18:00');
      return { ...farm, rounds: [...new Set(times)].sort() };
    },
  },
  {
    key: 'language',
    words: () =>
      `Language of notices, calls and the page: ${LANGUAGES.map((one) => nameIn(one, 'en')).join(' or ')}`,
    now: ({ language }) => nameIn(language, 'en'),
    read: (typed, farm) => ({ ...farm, language: readLanguage(typed) }),
  },
  {
    key: 'units',
    words: () => 'Units: metric (mL, °C, mm, g) or us (fl oz, °F, in, lb)',
    now: ({ units }) => unitsText(units),
    read: (typed, farm) => ({ ...farm, units: readUnits(typed, farm.units) }),
  },
  {
    key: 'benches',
    words: () => 'Benches, one for each climate',
    now: ({ benches }) => benches.join(', '),
    read: (typed, farm) => {
      const benches = [...new Set(words(typed).map((word) => checked(idSchema, word)))];
      if (benches.length === 0) throw new BadWord('expected at least one bench, such as south');
      return { ...farm, benches };
    },
  },
  {
    key: 'limits',
    words: ({ units }) => `Call when a bench is colder or hotter than, °${units.temperature}; or none`,
    now: ({ limitsC, units }) =>
      limitsC === undefined
        ? NONE
        : limitsC === 'various'
          ? limitsC
          : `${toShown(limitsC.low, units)}, ${toShown(limitsC.high, units)}`,
    read: readLimits,
  },
];
