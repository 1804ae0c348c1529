import type { UnitsConfig } from '../../../../../shared/config/notices.js';

/** US fluid ounce, 21 CFR 101.9(b)(5)(viii): 29.5735 mL exactly by definition of the gallon (231 cubic inches). */
const ML_PER_FL_OZ = 29.5735295625;
const FL_OZ_PER_GAL = 128;
const MM_PER_IN = 25.4;
const ML_PER_L = 1000;
/** A size this near to a quarter inch is called by it: 19 mm is the trade's 3/4 in. */
const SIZE_TOLERANCE_MM = 0.6;

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

/** Water in the farm's unit, to the 10 mL of every dose up to ten litres, then a decilitre; or whole fluid ounces. */
export function waterWords(ml: number, units: UnitsConfig): string {
  if (units.volume === 'fl oz') {
    const ounces = ml / ML_PER_FL_OZ;
    if (ounces >= FL_OZ_PER_GAL) return `${numberWords(ounces / FL_OZ_PER_GAL, 1)} gal`;
    return `${numberWords(ounces, ounces < 10 ? 1 : 0)} fl oz`;
  }
  if (ml >= 9950) return `${numberWords(ml / ML_PER_L, ml >= 99_500 ? 0 : 1)} L`;
  if (ml >= 995) return `${numberWords(ml / ML_PER_L, 2, 1)} L`;
  return `${ml < 10 ? Math.round(ml) : Math.round(ml / 10) * 10} mL`;
}

/** A block's side in the farm's unit: "19 mm", or the trade's inches: "3/4 in", "1 1/2 in". */
export function sizeWords(sideMm: number, units: UnitsConfig): string {
  if (units.length === 'mm') return `${numberWords(sideMm, 1, 0)} mm`;
  const quarters = Math.round((sideMm / MM_PER_IN) * 4);
  if (Math.abs((quarters / 4) * MM_PER_IN - sideMm) > SIZE_TOLERANCE_MM)
    return `${numberWords(sideMm / MM_PER_IN, 2)} in`;
  const whole = Math.floor(quarters / 4);
  const part = ['', '1/4', '1/2', '3/4'][quarters % 4] ?? '';
  return `${[whole === 0 ? '' : String(whole), part].filter((text) => text !== '').join(' ')} in`;
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
