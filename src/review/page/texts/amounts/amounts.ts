import type { UnitsConfig } from '../../../../../shared/config/notices.js';
import { ML_PER_FL_OZ, sideWords, toldVolume } from '../../../../watering/sentences/words/told-amounts.js';

const FL_OZ_PER_GAL = 128;
const ML_PER_L = 1000;

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

/** Water in the farm's unit, to the 10 mL of every dose up to ten litres, then a decilitre; fluid ounces as the sentences tell them. */
export function waterWords(ml: number, units: UnitsConfig): string {
  if (units.volume === 'fl oz') {
    const ounces = ml / ML_PER_FL_OZ;
    if (ounces >= FL_OZ_PER_GAL) return `${numberWords(ounces / FL_OZ_PER_GAL, 1)} gal`;
    return `${numberWords(toldVolume(ml, units.volume), 2, 0)} fl oz`;
  }
  if (ml >= 9950) return `${numberWords(ml / ML_PER_L, ml >= 99_500 ? 0 : 1)} L`;
  if (ml >= 995) return `${numberWords(ml / ML_PER_L, 2, 1)} L`;
  return `${ml < 10 ? Math.round(ml) : Math.round(ml / 10) * 10} mL`;
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
