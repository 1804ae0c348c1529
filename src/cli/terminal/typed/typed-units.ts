import type { UnitsConfig } from '../../../../shared/config/notices.js';
import { BadWord } from './bad-word.js';

export const METRIC: UnitsConfig = { volume: 'mL', temperature: 'C', length: 'mm', weight: 'g' };
export const US: UnitsConfig = { volume: 'fl oz', temperature: 'F', length: 'in', weight: 'lb' };

/** One unit as it is typed, in small letters without blanks and degrees. */
const NAMED: Readonly<Record<string, Partial<UnitsConfig>>> = {
  ml: { volume: 'mL' },
  floz: { volume: 'fl oz' },
  c: { temperature: 'C' },
  f: { temperature: 'F' },
  mm: { length: 'mm' },
  in: { length: 'in' },
  g: { weight: 'g' },
  oz: { weight: 'oz' },
  lb: { weight: 'lb' },
};

/** "metric", "us", or units with commas between; those that are not named stay as before. Throws BadWord. */
export function readUnits(typed: string, before: UnitsConfig): UnitsConfig {
  const words = typed.split(',').map((word) => word.toLowerCase().replace(/[\s°]/g, ''));
  if (words.join() === 'metric') return METRIC;
  if (words.join() === 'us') return US;
  const units = { ...before };
  for (const word of words) {
    if (!Object.hasOwn(NAMED, word))
      throw new BadWord(
        `"${typed}": expected metric (mL, °C, mm, g), us (fl oz, °F, in, lb), or a mixture such as: mL, F, in, oz`,
      );
    Object.assign(units, NAMED[word]);
  }
  return units;
}
