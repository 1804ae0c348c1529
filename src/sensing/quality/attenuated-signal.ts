import type { Flag } from '../../../shared/reading.js';
import { FAIL, isPresent, MISSING, NOT_EVALUATED, PASS, type Series, SUSPECT } from './qartod.js';

const MS_PER_S = 1000;

/** A spread below these is too small for a living signal; in the values' unit. */
export interface AttenuationLimits {
  readonly suspect: number;
  readonly fail: number;
  readonly statistic: 'standard-deviation' | 'range';
  /** Judge each reading by the window (t − windowS, t]; the whole series at once when absent. */
  readonly windowS?: number | undefined;
  /** Fewer present readings in the window than this: not evaluated. */
  readonly fewestReadings?: number | undefined;
}

function spread(values: readonly number[], limits: AttenuationLimits): number {
  if (limits.statistic === 'range') return Math.max(...values) - Math.min(...values);
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return Math.sqrt(squares / (limits.windowS === undefined ? values.length : values.length - 1));
}

function flagOfSpread(values: readonly number[], limits: AttenuationLimits): Flag {
  if (values.length < (limits.fewestReadings ?? 1)) return NOT_EVALUATED;
  const size = spread(values, limits);
  if (size < limits.fail) return FAIL;
  if (size < limits.suspect) return SUSPECT;
  return size >= limits.suspect ? PASS : NOT_EVALUATED;
}

/** Attenuated-signal test: population standard deviation of a whole series, sample one of a window, or the range. */
export function attenuatedSignalTest(
  values: Series,
  timesMs: readonly number[],
  limits: AttenuationLimits,
): Flag[] {
  const whole = flagOfSpread(values.filter(isPresent), limits);
  return values.map((value, i) => {
    if (!isPresent(value)) return MISSING;
    if (limits.windowS === undefined) return whole;
    const endMs = timesMs[i] ?? 0;
    const startMs = endMs - limits.windowS * MS_PER_S;
    const window = values.filter((_, j) => j <= i && (timesMs[j] ?? 0) > startMs).filter(isPresent);
    return flagOfSpread(window, limits);
  });
}
