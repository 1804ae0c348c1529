import type { UnitsConfig } from '../../../../shared/config/notices.js';
import { G_PER_LB, ML_PER_FL_OZ, OZ_PER_LB } from '../../../watering/sentences/words/told-amounts.js';
import { BadWord } from './bad-word.js';

const MM_PER_IN = 25.4;
const FL_OZ_PER_GAL = 128;
const FL_OZ_PER_QT = 32;
const M_PER_S_PER_MPH = 0.44704;
const M2_PER_IN2 = (MM_PER_IN / 1000) ** 2;
/** More than anybody types, fewer than a sum of halves gets wrong. */
const DIGITS = 12;
const F_PER_C = 1.8;
const FREEZING_F = 32;

/** What people type of one kind: its units in the one that the house keeps, and which a number without one is in. */
interface Measure {
  readonly units: Readonly<Record<string, (value: number) => number>>;
  readonly bare: (units: UnitsConfig) => string;
  readonly expected: (units: UnitsConfig) => string;
}

const times =
  (factor: number) =>
  (value: number): number =>
    value * factor;

const LENGTHS = { mm: times(1), cm: times(10), m: times(1000), in: times(MM_PER_IN), '"': times(MM_PER_IN) };

const MEASURES = {
  /** mL */
  volume: {
    units: {
      ml: times(1),
      l: times(1000),
      floz: times(ML_PER_FL_OZ),
      oz: times(ML_PER_FL_OZ),
      qt: times(ML_PER_FL_OZ * FL_OZ_PER_QT),
      gal: times(ML_PER_FL_OZ * FL_OZ_PER_GAL),
    },
    bare: ({ volume }) => volume.toLowerCase().replace(' ', ''),
    expected: ({ volume }) => `water such as ${volume === 'mL' ? '400 mL or 0.4 L' : '14 fl oz or 0.5 gal'}`,
  },
  /** mm */
  length: {
    units: LENGTHS,
    bare: ({ length }) => length,
    expected: ({ length }) => `a length such as ${length === 'mm' ? '12 mm' : '1/2 in'}`,
  },
  /** m² */
  area: {
    units: {
      m2: times(1),
      cm2: times(1e-4),
      in2: times(M2_PER_IN2),
      sqin: times(M2_PER_IN2),
    },
    bare: ({ length }) => (length === 'mm' ? 'm2' : 'in2'),
    expected: ({ length }) =>
      `an area such as ${length === 'mm' ? '0.16 m2 or 46 x 36 cm' : '252 in2 or 14 x 18 in'}`,
  },
  /** g */
  weight: {
    units: {
      g: times(1),
      kg: times(1000),
      lb: times(G_PER_LB),
      oz: times(G_PER_LB / OZ_PER_LB),
    },
    bare: ({ weight }) => weight,
    expected: ({ weight }) =>
      `a weight such as ${{ g: '2140 g or 2.14 kg', oz: '75.5 oz or 2140 g', lb: '4 lb 11 oz or 4.7 lb' }[weight]}`,
  },
  /** °C */
  temperature: {
    units: { c: times(1), f: (value) => (value - FREEZING_F) / F_PER_C },
    bare: ({ temperature }) => temperature.toLowerCase(),
    expected: ({ temperature }) => `a temperature such as ${temperature === 'C' ? '21 C' : '70 F'}`,
  },
  /** m/s */
  airSpeed: {
    units: { 'm/s': times(1), mph: times(M_PER_S_PER_MPH) },
    bare: () => 'm/s',
    expected: () => 'an air speed such as 0.3 m/s',
  },
} as const satisfies Record<string, Measure>;

export type MeasureName = keyof typeof MEASURES;

/** "12", "0.5", "0,5", "3/4", "1 1/2"; undefined for anything else, and for "1,250", which could be two numbers. */
function numberOf(text: string): number | undefined {
  const [, sign = '', whole = '0', above, below] =
    /^([+-]?)(?:(\d+)[ -])?(\d+(?:\.\d+)?)\/(\d+(?:\.\d+)?)$/.exec(text) ?? [];
  if (above !== undefined) {
    const value = (Number(whole) + Number(above) / Number(below)) * (sign === '-' ? -1 : 1);
    return Number.isFinite(value) ? value : undefined;
  }
  if (!/^[+-]?(\d+([.,]\d*)?|[.,]\d+)$/.test(text) || /,\d{3}$/.test(text)) return undefined;
  return Number(text.replace(',', '.'));
}

const NUMBER = '[+-]?(?:\\d+[ -]\\d+/\\d+|[\\d.,]+/[\\d.,]+|[\\d.,]+)';
const ONE = new RegExp(`^(${NUMBER})\\s*(.*)$`);

/** A number and its unit in small letters without blanks, as typed: "0.75in", "1 1/2 in", "21", "20klx". Undefined when it is none. */
export function parseQuantity(text: string): { readonly value: number; readonly unit: string } | undefined {
  const [, number = '', unit = ''] = ONE.exec(text.trim()) ?? [];
  const value = numberOf(number);
  return value === undefined || /^[\d.,]/.test(unit)
    ? undefined
    : {
        value,
        unit: unit
          .toLowerCase()
          .replace(/[\s.°]/g, '')
          .replace('²', '2'),
      };
}

/** "4 lb 11 oz" is told in two parts, which are added. */
const PARTS = /^(\d[\d.,]*\s*[a-z]+)\s+(\d[\d.,]*\s*[a-z]+)$/i;
/** An area may be told by its sides. */
const SIDES = /^(.+?)\s*[x×*]\s*(.+)$/i;

/**
 * What was typed, in the unit that the house keeps; a bare number is in the farm's. Undefined when it is none.
 */
export function quantityOf(name: MeasureName, text: string, units: UnitsConfig): number | undefined {
  const measure: Measure = MEASURES[name];
  const quantity = parseQuantity(text);
  if (quantity !== undefined) {
    const { value, unit } = quantity;
    const read = measure.units[unit === '' ? measure.bare(units) : unit];
    if (read !== undefined && (unit === '' || Object.hasOwn(measure.units, unit)))
      return Number(read(value).toPrecision(DIGITS));
  }
  const [, first = '', second = ''] = PARTS.exec(text.trim()) ?? [];
  if (name === 'weight' && first !== '') {
    const [a, b] = [quantityOf(name, first, units), quantityOf(name, second, units)];
    return a === undefined || b === undefined ? undefined : a + b;
  }
  const [, length = '', width = ''] = SIDES.exec(text.trim()) ?? [];
  if (name !== 'area' || length === '') return undefined;
  const unit = parseQuantity(width)?.unit ?? '';
  const [a, b] = [
    quantityOf('length', parseQuantity(length)?.unit === '' ? `${length}${unit}` : length, units),
    quantityOf('length', width, units),
  ];
  return a === undefined || b === undefined ? undefined : (a * b) / 1e6;
}

/** As quantityOf. @param what how it was asked for: a flag, or the word's name. Throws BadWord. */
export function readQuantity(name: MeasureName, what: string, text: string, units: UnitsConfig): number {
  const value = quantityOf(name, text, units);
  if (value === undefined) throw new BadWord(`${what} "${text}": expected ${MEASURES[name].expected(units)}`);
  return value;
}

/** What a measure is typed like on this farm, for a question or a refusal. */
export function expectedOf(name: MeasureName, units: UnitsConfig): string {
  return MEASURES[name].expected(units);
}

const MOST_WORDS_OF_AMOUNT = 4;

/** Words that end in an amount of water with its unit, "celery-1 10 fl oz", as the words before it and the amount in mL. */
export function splitAmount(
  words: readonly string[],
  units: UnitsConfig,
): { readonly words: readonly string[]; readonly ml?: number } {
  for (let count = Math.min(MOST_WORDS_OF_AMOUNT, words.length); count > 0; count--) {
    const text = words.slice(-count).join(' ');
    const unit = parseQuantity(text)?.unit ?? '';
    const ml = unit === '' ? undefined : quantityOf('volume', text, units);
    if (ml !== undefined) return { words: words.slice(0, -count), ml };
  }
  return { words };
}
