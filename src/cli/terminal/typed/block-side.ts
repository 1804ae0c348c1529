import type { UnitsConfig } from '../../../../shared/config/notices.js';
import { trayFields } from '../../../../shared/config/trays.js';
import { BadWord } from './bad-word.js';
import { quantityOf } from './quantities.js';

/** The smallest common block, 3/4 in. */
const MINI_MM = 19;

/** Block side in mm from what was typed, "mini", "38mm", "1 1/2 in"; a bare number is in the farm's unit. Undefined when it is none. */
export function sideMmOf(text: string, units: UnitsConfig): number | undefined {
  if (text === 'mini' || text === 'minis') return MINI_MM;
  const sideMm = quantityOf('length', text, units);
  return sideMm !== undefined && sideMm > 0 ? sideMm : undefined;
}

/** What a side is typed like on this farm. */
export function expectedSide({ length }: UnitsConfig): string {
  return length === 'mm'
    ? '"mini", a side of 10 to 300 mm such as 38, or in inches such as 1.5in'
    : '"mini", a side of 0.4 to 11.8 in such as 1 1/2, or in mm such as 38mm';
}

/** Whether a block can be as large, mm. */
export const isBlockSide = (sideMm: number): boolean => trayFields.blockSideMm.safeParse(sideMm).success;

/** As sideMmOf, within what a block can be. Throws BadWord. */
export function readSideMm(text: string, units: UnitsConfig, what = '--side'): number {
  const sideMm = sideMmOf(text, units);
  if (sideMm === undefined || !isBlockSide(sideMm))
    throw new BadWord(`${what} "${text}": expected ${expectedSide(units)}`);
  return sideMm;
}
