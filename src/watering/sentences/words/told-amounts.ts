import type { UnitsConfig } from '../../../../shared/config/notices.js';

/** US fluid ounce: a 128th of a gallon of 231 cubic inches (NIST Handbook 44, appendix C). */
export const ML_PER_FL_OZ = 29.5735295625;
const MM_PER_IN = 25.4;
/** Fewer of a unit than this are told more finely (judgement). */
const FEW = 10;
const PARTS_OF_FIRST_OUNCE = 20;
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

/** Water in the farm's unit, to what can be poured: below ten mL a tenth, below an ounce a twentieth, below ten ounces a half. */
export function toldVolume(ml: number, unit: UnitsConfig['volume']): number {
  if (unit === 'mL') return ml < FEW ? Math.round(ml * 10) / 10 : Math.round(ml);
  const flOz = ml / ML_PER_FL_OZ;
  if (flOz < 1) return Math.round(flOz * PARTS_OF_FIRST_OUNCE) / PARTS_OF_FIRST_OUNCE;
  return flOz < FEW ? Math.round(flOz * 2) / 2 : Math.round(flOz);
}
