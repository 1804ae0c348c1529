/** Units that a column of a logger may be in, and how each becomes the raw unit of a probe: value x factor + offset. */
export type FileUnit =
  | '°C'
  | '°F'
  | 'K'
  | '%'
  | 'm3/m3'
  | 'lx'
  | 'klx'
  | 'W/m2'
  | 'µmol/m2/s'
  | 'V'
  | 'mV'
  | 'counts'
  | 'g'
  | 'kg'
  | 'lb'
  | 'oz';

const PATTERNS: readonly (readonly [FileUnit, RegExp])[] = [
  ['m3/m3', /m(\^?3|³)\s*[/·.]?\s*m(\^?-?3|⁻?³)|cm(\^?3|³)\s*\/\s*cm(\^?3|³)|m3perm3/i],
  ['µmol/m2/s', /[µμu]mol|ppfd/i],
  ['W/m2', /w\s*\/?\s*m(\^?-?2|²|⁻²)|wm-?2|wperm2/i],
  ['klx', /\bklx\b|\bklux\b|kilolux/i],
  ['lx', /\blx\b|lux\b/i],
  ['°C', /°\s*c(?![a-z])|\bdeg\.?\s*c(el\w*)?\b|celsius|℃|\bcel\b|(^|[\s_([,/])c([\s)\],]|$)/i],
  ['°F', /°\s*f(?![a-z])|\bdeg\.?\s*f\b|fahrenheit|℉|(^|[\s_([,/])f([\s)\],]|$)/i],
  ['K', /kelvin|(^|[([])K([)\]]|$)/],
  ['%', /%|\bpct\b|percent|prozent|por ?ciento/i],
  ['mV', /\bmv\b|millivolts?/i],
  ['V', /\bv\b|\bvolts?\b|\bvdc\b|spannung|voltaje/i],
  ['kg', /\bkg\b|kilograms?|kilogramm/i],
  ['lb', /\blbs?\b|\bpounds?\b/i],
  ['oz', /(?<!\bfl\.?\s*)\boz\b|\bounces?\b/i],
  ['g', /(^|[\s_([,])g([\s)\],]|$)|\bgrams?\b|\bgramm\b|gramos/i],
  ['counts', /\bcounts?\b|\braw\b|\badc\b/i],
];

const spaced = (text: string): string => text.trim().replaceAll('_', ' ');

/** The unit that a text names; undefined where it names none. */
export function unitIn(text: string): FileUnit | undefined {
  const words = spaced(text);
  return PATTERNS.find(([, pattern]) => pattern.test(words))?.[0];
}

/** Words that stand in a row of units beside units. */
const BESIDE_UNITS = /^(ts|rn|utc|iso ?8601|smp|avg|min|max|-|unit|einheit|unidad)$/i;
const TIME_PATTERN = /^((yyyy|yy|dd|mm|jjjj|tt|d|m)[-./ ]|hh?:mm)/i;

/** True where a cell is a unit and nothing else, or what stands beside units in their row: "°C", "[%]", "TS", "Avg". */
export function isUnit(cell: string): boolean {
  const bare = spaced(cell.replace(/^\s*[([]|[)\]]\s*$/g, ''));
  if (BESIDE_UNITS.test(bare) || TIME_PATTERN.test(bare)) return true;
  const pattern = PATTERNS.find(([, one]) => one.test(bare))?.[1];
  return (
    pattern !== undefined &&
    !/[\p{L}\d]/u.test(bare.replace(pattern, '').replace(/\b(rel|vol|rh|s|m)\b/gi, ''))
  );
}
