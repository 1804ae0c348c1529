import { BadWord } from './bad-word.js';
import { parseSideMm } from './quantities.js';

/** The smallest common block, 3/4 in. */
const MINI_MM = 19;

/** Block side in mm from what was typed, "mini", 38, 1.5in; undefined when it is none. */
export function sideMmOf(text: string): number | undefined {
  const sideMm = text === 'mini' || text === 'minis' ? MINI_MM : parseSideMm(text, 'metric');
  return sideMm !== undefined && sideMm > 0 ? sideMm : undefined;
}

/** As sideMmOf. Throws BadWord. */
export function readSideMm(text: string): number {
  const sideMm = sideMmOf(text);
  if (sideMm === undefined)
    throw new BadWord(
      `--side "${text}": expected "mini", a side in mm such as 38, or in inches such as 1.5in`,
    );
  return sideMm;
}
