import type { UnitsConfig } from '../../../../../shared/config/notices.js';
import {
  sideWords,
  type ToldAmount,
  toldVolume,
  toldWeight,
} from '../../../../watering/sentences/words/told-amounts.js';

let locale = 'en-GB';
const formats = new Map<string, Intl.NumberFormat>();

/** Numbers are written as this language writes them from now on; a page speaks one language at a time. */
export function speakNumbers(ofLocale: string): void {
  locale = ofLocale;
}

/** A number with so many decimals, or at least and at most so many: "1,250", "0.5"; "1.250", "0,5". */
export function numberWords(value: number, most = 0, least = most): string {
  const key = `${locale} ${least} ${most}`;
  let format = formats.get(key);
  if (format === undefined) {
    format = new Intl.NumberFormat(locale, { minimumFractionDigits: least, maximumFractionDigits: most });
    formats.set(key, format);
  }
  return format.format(value);
}

const amountWords = ({ value, mostDecimals, leastDecimals, unit }: ToldAmount): string =>
  `${numberWords(value, mostDecimals, leastDecimals)} ${unit}`;

/** Water in the farm's unit, as sentences and terminal tell it: "580 mL", "1.42 L", "14 fl oz". */
export function waterWords(ml: number, { volume }: UnitsConfig): string {
  return amountWords(toldVolume(ml, volume));
}

/** A weight in the farm's unit: "2,140 g", "4 lb 11.5 oz". */
export function weightWords(g: number, { weight }: UnitsConfig): string {
  return toldWeight(g, weight).map(amountWords).join(' ');
}

/** A block's side as sentences and terminal tell it: "19 mm", "1 1/2 in". */
export function sizeWords(sideMm: number, units: UnitsConfig): string {
  return sideWords(sideMm, units);
}

/** Temperature in the farm's unit, one decimal. */
export function temperatureWords(celsius: number, units: UnitsConfig): string {
  return units.temperature === 'F'
    ? `${numberWords(celsius * 1.8 + 32)} °F`
    : `${numberWords(celsius, 1)} °C`;
}

/** Whole per cent of a share. */
export function percentWords(share: number): string {
  return `${numberWords(share * 100)} %`;
}
