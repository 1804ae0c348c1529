import type { Flag } from '../../../shared/reading.js';
import { FAIL, isOutside, isPresent, MISSING, PASS, type Series, type Span, SUSPECT } from './qartod.js';

/** Outside `fail` the probe or its wire cannot mean it; outside `suspect` a bench cannot be so. */
export interface GrossRange {
  readonly fail: Span;
  readonly suspect?: Span | undefined;
}

/** Gross range test of one value; endpoints pass. */
export function grossRangeFlag(value: number | undefined, range: GrossRange): Flag {
  if (!isPresent(value)) return MISSING;
  if (isOutside(value, range.fail)) return FAIL;
  return range.suspect !== undefined && isOutside(value, range.suspect) ? SUSPECT : PASS;
}

export function grossRangeTest(values: Series, range: GrossRange): Flag[] {
  return values.map((value) => grossRangeFlag(value, range));
}
