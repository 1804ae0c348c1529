import type { UnitsConfig } from '../../../../shared/config/notices.js';

/** US fluid ounce: a 128th of a gallon of 231 cubic inches (NIST Handbook 44, appendix C). */
export const ML_PER_FL_OZ = 29.5735295625;
const MM_PER_IN = 25.4;
const FL_OZ_PER_GAL = 128;
const ML_PER_L = 1000;
/** The avoirdupois pound (NIST Handbook 44, appendix C). */
export const G_PER_LB = 453.59237;
export const OZ_PER_LB = 16;
/** Fewer of a unit than this are told more finely, more than ten times as many more coarsely (judgement). */
const FEW = 10;
const PARTS_OF_FIRST_OUNCE = 20;
/** The finest marks of a litre's measure, mL (judgement); below FEW of them every mL is told. */
const MARK_ML = 5;
const EIGHTHS = ['', '1/8', '1/4', '3/8', '1/2', '5/8', '3/4', '7/8'];

/** Inches to the nearest eighth: 38 mm -> "1 1/2". */
function inches(mm: number): string {
  const eighths = Math.round((mm / MM_PER_IN) * 8);
  const whole = Math.floor(eighths / 8);
  const part = EIGHTHS[eighths % 8] ?? '';
  return [whole === 0 ? '' : String(whole), part].filter((text) => text !== '').join(' ') || '0';
}

/** The side of a block in the farm's unit, the same in sentences, on the terminal and on the page: "38 mm", "1 1/2 in". */
export function sideWords(mm: number, { length }: UnitsConfig): string {
  return length === 'mm' ? `${Math.round(mm)} mm` : `${inches(mm)} in`;
}

/** A number rounded as it is told, the decimals that it is written with, and its unit. */
export interface ToldAmount {
  readonly value: number;
  readonly leastDecimals: number;
  readonly mostDecimals: number;
  readonly unit: string;
}

function told(value: number, unit: string, mostDecimals: number, leastDecimals = 0): ToldAmount {
  return { value, unit, leastDecimals, mostDecimals };
}

/** Litres and gallons: to a hundredth, a tenth from ten on, whole from a hundred on. */
function toldLarge(value: number, unit: string): ToldAmount {
  const decimals = value < FEW - 0.05 ? 2 : value < FEW * FEW - 0.5 ? 1 : 0;
  return told(value, unit, decimals, Math.min(1, decimals));
}

/**
 * Water in the farm's unit, the same in sentences, on the terminal and on the page, to what can be poured: below ten mL a tenth,
 * from fifty on the marks of a measure, from a litre on litres; below an ounce a twentieth, below ten ounces a half, from a gallon
 * on gallons.
 */
export function toldVolume(ml: number, unit: UnitsConfig['volume']): ToldAmount {
  if (unit === 'mL') {
    const step = ml < FEW ? 0.1 : ml < FEW * MARK_ML ? 1 : MARK_ML;
    const rounded = Math.round(ml / step) * step;
    return rounded < ML_PER_L ? told(rounded, unit, 1) : toldLarge(ml / ML_PER_L, 'L');
  }
  const flOz = ml / ML_PER_FL_OZ;
  const parts = flOz < 1 ? PARTS_OF_FIRST_OUNCE : flOz < FEW ? 2 : 1;
  const rounded = Math.round(flOz * parts) / parts;
  return rounded < FL_OZ_PER_GAL ? told(rounded, unit, 2) : toldLarge(flOz / FL_OZ_PER_GAL, 'gal');
}

/**
 * A weight in the farm's unit, in one part or, for pounds, two: "2140 g", "75.5 oz", "4 lb 11.5 oz".
 * @param finely as a kitchen scale for blocks shows it, which has tenths of a gram; else to the gram, or a tenth of an ounce
 */
export function toldWeight(g: number, unit: UnitsConfig['weight'], finely = false): readonly ToldAmount[] {
  if (unit === 'g') return [told(g, 'g', finely || Math.abs(g) < FEW * FEW ? 1 : 0)];
  const decimals = finely ? 2 : 1;
  const ounces = Number(((g / G_PER_LB) * OZ_PER_LB).toFixed(decimals));
  if (unit === 'oz' || Math.abs(ounces) < OZ_PER_LB) return [told(ounces, 'oz', decimals)];
  const pounds = Math.trunc(ounces / OZ_PER_LB);
  const rest = Number(Math.abs(ounces - pounds * OZ_PER_LB).toFixed(decimals));
  return [told(pounds, 'lb', 0), ...(rest === 0 ? [] : [told(rest, 'oz', decimals)])];
}
