import type { ProbeKind } from '../../../../shared/config/kit/probes.js';
import { type FileUnit, unitIn } from '../cells/units.js';

/** What a column was taken for; `reason` says why it is none of our probes. */
export type Verdict =
  | { readonly kind: ProbeKind; readonly unit: FileUnit; readonly isSure: boolean }
  | { readonly kind: undefined; readonly reason: string };

/** Why a column is left out of which people may know better. */
export const UNKNOWN_COLUMN = 'nothing in its name or unit says what it is';

const plain = (text: string): string =>
  text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/([a-z])(\d)/g, '$1 $2')
    .replace(/[_.\-/]+/g, ' ');

const OTHER: readonly (readonly [string, RegExp])[] = [
  ['the state of a battery', /\bbatt?\b|batter|akku|bateria|supply volt|\bvbat/],
  ['the strength of a radio signal', /\brssi\b|signal|\bsnr\b|\blqi\b/],
  ['a dew point', /dew ?point|taupunkt|punto de rocio|wet ?bulb|\bdp\b/],
  ['air pressure', /pressure|luftdruck|presion|\bhpa\b|\bmbar\b|baro/],
  ['rain or wind', /\brain|regen|lluvia|\bwind|viento|precip/],
  ['carbon dioxide', /\bco ?2\b/],
  ['salt or acid', /conductiv|leitfah|\bec\b|salin|\bph\b/],
  ['tension, not water content', /tension|matric|suction|potential|centibar|\bcbar\b|\bkpa\b/],
  ['a vapour pressure deficit, which follows from temperature and humidity', /\bvpd\b/],
  ['a number of the row', /^(#|no|nr|n|index|record|rn|id|lfd|row|count|seq(uence)?)\b/],
];

const WORDS = {
  soil: /soil|substrat|boden|erde|suelo|sustrato|\bsol\b|block|root|medium|witness/,
  moisture: /moist|\bvwc\b|water ?content|wassergehalt|volumetric|theta|feuchte? ?(boden|substrat)|\bwc\b/,
  humidity: /\brh\b|humid|hygro|\bhum\b|feuchte|humedad|\brelh|\bhr\b|\brf\b/,
  temperature: /temp|celsius|fahrenheit|\bt\b|\bair ?t\b|\btair\b|grad\b/,
  light:
    /light|lux|illumin|licht|helligkeit|\bluz\b|solar|radiat|irradian|strahlung|\bpar\b|ppfd|pyran|lumiere|brightness/,
  weight: /weight|\bmass\b|scale|gewicht|waage|\bpeso\b|balanza|poids|load ?cell/,
} as const;

/** What is left of a column's name without the words that say what its probe measures: "Bodenfeuchte Tisch 3" is "Tisch 3". */
export function nameWithoutKind(name: string): string {
  return name
    .split(/[\s_.\-/]+/)
    .filter(
      (word) =>
        ![WORDS.soil, WORDS.moisture, WORDS.humidity, WORDS.weight].some((kind) => kind.test(plain(word))),
    )
    .join(' ');
}

const TEMPERATURES: readonly FileUnit[] = ['°C', '°F', 'K'];
const LIGHTS: readonly FileUnit[] = ['lx', 'klx', 'W/m2', 'µmol/m2/s'];
const MOISTURES: readonly FileUnit[] = ['%', 'm3/m3', 'V', 'mV', 'counts'];
const WEIGHTS: readonly FileUnit[] = ['g', 'kg', 'lb', 'oz'];

function verdict(
  kind: ProbeKind,
  unit: FileUnit | undefined,
  usual: readonly FileUnit[],
  assumed: FileUnit,
): Verdict {
  const fits = unit !== undefined && usual.includes(unit);
  return { kind, unit: fits ? unit : assumed, isSure: fits };
}

/** Where no unit is named the size of the values says it: a share of one, per cent, or a converter's counts. */
function moistureUnit(largest: number): FileUnit {
  return largest <= 1 ? 'm3/m3' : largest <= 100 ? '%' : 'counts';
}

/**
 * What a column is, by its name, its unit and the size of its values.
 * @param largest the largest value in the column; settles units that nobody wrote
 */
export function columnKind(name: string, unitText: string, largest: number): Verdict {
  const words = plain(`${name} ${unitText}`);
  const unit = unitIn(unitText) ?? unitIn(name);
  const is = (what: keyof typeof WORDS): boolean => WORDS[what].test(words);
  const other = OTHER.find(([, pattern]) => pattern.test(words));
  if (other !== undefined) return { kind: undefined, reason: other[0] };
  const isTemperature = is('temperature') || (unit !== undefined && TEMPERATURES.includes(unit));
  if (isTemperature && !is('moisture') && !is('humidity')) {
    if (is('soil')) return { kind: undefined, reason: 'a temperature of the soil, not of the air' };
    return verdict('air-temperature', unit, TEMPERATURES, '°C');
  }
  if (is('moisture') || (is('soil') && (is('humidity') || unit === undefined || MOISTURES.includes(unit))))
    return verdict('block-moisture', unit, MOISTURES, moistureUnit(largest));
  if (is('humidity')) return verdict('relative-humidity', unit, ['%'], '%');
  if (is('light') || (unit !== undefined && LIGHTS.includes(unit)))
    return verdict('light', unit, LIGHTS, 'lx');
  if (is('weight') || (unit !== undefined && WEIGHTS.includes(unit)))
    return verdict('tray-weight', unit, WEIGHTS, 'g');
  if (unit === 'm3/m3') return { kind: 'block-moisture', unit, isSure: true };
  return { kind: undefined, reason: UNKNOWN_COLUMN };
}
