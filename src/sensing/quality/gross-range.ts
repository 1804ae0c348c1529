import type { Flag } from '../../../shared/facts/reading.js';

/** Lowest and highest value that still pass; both pass themselves. */
interface Span {
  readonly low: number;
  readonly high: number;
}

/** Outside `fail` the probe or its wire cannot mean it; outside `suspect` a bench cannot be so. */
export interface GrossRange {
  readonly fail: Span;
  readonly suspect?: Span | undefined;
}

function isOutside(value: number, span: Span): boolean {
  return value < span.low || value > span.high;
}

/**
 * Gross range test of one value, flags of the IOOS QARTOD manuals: 1 pass, 3 suspect, 4 fail, 9 missing (absent, NaN or
 * infinite). Endpoints pass.
 */
export function grossRangeFlag(value: number | undefined, range: GrossRange): Flag {
  if (value === undefined || !Number.isFinite(value)) return 9;
  if (isOutside(value, range.fail)) return 4;
  return range.suspect !== undefined && isOutside(value, range.suspect) ? 3 : 1;
}
