import type { Flag } from '../../../shared/reading.js';
import {
  FAIL,
  isOutside,
  isPresent,
  MISSING,
  NOT_EVALUATED,
  PASS,
  type Series,
  type Span,
  SUSPECT,
} from './qartod.js';

/** What is usual in a stretch of time; all ends belong to it. `level` (block side, depth) narrows it further. */
export interface ClimatologyWindow {
  readonly fromMs: number;
  readonly toMs: number;
  readonly usual: Span;
  readonly possible?: Span | undefined;
  readonly level?: Span | undefined;
}

/** Climatology test of one value: the last window that holds its time and level judges it. */
export function climatologyFlag(
  value: number | undefined,
  atMs: number,
  windows: readonly ClimatologyWindow[],
  level?: number,
): Flag {
  if (!isPresent(value)) return MISSING;
  const window = windows.findLast(
    (w) =>
      atMs >= w.fromMs &&
      atMs <= w.toMs &&
      (w.level === undefined || (level !== undefined && !isOutside(level, w.level))),
  );
  if (window === undefined) return NOT_EVALUATED;
  if (window.possible !== undefined && isOutside(value, window.possible)) return FAIL;
  return isOutside(value, window.usual) ? SUSPECT : PASS;
}

export function climatologyTest(
  values: Series,
  timesMs: readonly number[],
  windows: readonly ClimatologyWindow[],
  levels?: Series,
): Flag[] {
  return values.map((value, i) => climatologyFlag(value, timesMs[i] ?? 0, windows, levels?.[i]));
}
