import type { Flag } from '../../../shared/reading.js';

/**
 * Flags of the IOOS QARTOD manuals: 1 pass, 2 not evaluated, 3 suspect, 4 fail, 9 missing. The batch tests of this
 * folder give the flags of the published test vectors (ioos_qc, tests/test_qartod.py at commit 9c1853a); `undefined`
 * is a missing value.
 */
export const PASS: Flag = 1;
export const NOT_EVALUATED: Flag = 2;
export const SUSPECT: Flag = 3;
export const FAIL: Flag = 4;
export const MISSING: Flag = 9;

/** A series with gaps. */
export type Series = readonly (number | undefined)[];

/** Present and a number; NaN and infinities count as missing. */
export function isPresent(value: number | undefined): value is number {
  return value !== undefined && Number.isFinite(value);
}

/** Lowest and highest value that still pass; both pass themselves. */
export interface Span {
  readonly low: number;
  readonly high: number;
}

export function isOutside(value: number, span: Span): boolean {
  return value < span.low || value > span.high;
}

/** Rank of a flag when several tests speak of one reading, low to high: 9, 2, 1, 3, 4. */
function rank(flag: Flag): number {
  switch (flag) {
    case 9:
      return 0;
    case 2:
      return 1;
    case 1:
      return 2;
    case 3:
      return 3;
    case 4:
      return 4;
  }
}

/** The flag that stands when several tests speak of one reading; missing when none does. */
export function strongestFlag(flags: readonly Flag[]): Flag {
  return flags.reduce((strongest, flag) => (rank(flag) > rank(strongest) ? flag : strongest), MISSING);
}

/** The flags that stand for each reading of a series that several tests judged. */
export function combineFlags(tests: readonly (readonly Flag[])[]): Flag[] {
  const length = Math.max(0, ...tests.map((flags) => flags.length));
  return Array.from({ length }, (_, i) => strongestFlag(tests.map((flags) => flags[i] ?? MISSING)));
}
