import type { UnitsConfig } from '../../../../shared/config/notices.js';
import { BadWord } from './bad-word.js';

export const METRIC: UnitsConfig = { volume: 'mL', temperature: 'C', length: 'mm' };
export const US: UnitsConfig = { volume: 'fl oz', temperature: 'F', length: 'in' };

/** "metric", "us", or units with commas between; those that are not named stay as before. Throws BadWord. */
export function readUnits(typed: string, before: UnitsConfig): UnitsConfig {
  const word = typed.toLowerCase();
  if (word === 'metric') return METRIC;
  if (word === 'us') return US;
  const has = (pattern: RegExp): boolean => pattern.test(typed);
  const named = typed.split(',').filter((one) => /^\s*(ml|fl ?oz|°?[cf]|mm|in)\s*$/i.test(one)).length;
  if (named === 0 || named < typed.split(',').length)
    throw new BadWord(
      `"${typed}": expected metric (mL, °C, mm), us (fl oz, °F, in), or a mixture such as: mL, F, in`,
    );
  return {
    volume: has(/\bml\b/i) ? 'mL' : has(/oz/i) ? 'fl oz' : before.volume,
    temperature: has(/(^|[\s,°])c\b/i) ? 'C' : has(/(^|[\s,°])f\b/i) ? 'F' : before.temperature,
    length: has(/\bmm\b/i) ? 'mm' : has(/\bin\b/i) ? 'in' : before.length,
  };
}
