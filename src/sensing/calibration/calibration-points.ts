import type { CalibrationPoint } from '../../../shared/config/kit/probes.js';
import { scatterAbout } from './choose-curve.js';
import { type IsotonicLevel, isotonicLevels, pooled } from './isotonic.js';

/** Why no curve can be drawn through a set of points. `message` says what to do. */
export interface CalibrationProblem {
  readonly code: 'too-few' | 'not-a-number' | 'one-voltage' | 'too-alike' | 'contradictory';
  readonly message: string;
}

/** Points made ready for a curve: one for each voltage, in the probe's wetter direction. */
export interface OrderedPoints {
  readonly ok: true;
  /** +1 when the voltage rises with wetness, −1 when it falls. */
  readonly direction: 1 | -1;
  /** direction × volts, ascending. */
  readonly x: readonly number[];
  readonly waterContentM3PerM3: readonly number[];
}

/** Less than this between the ends is within a converter's noise, V (judgement: ten steps of 10 bits on 5 V). */
const LEAST_SPAN_V = 0.05;
/** Less than this between driest and wettest is within a scale's error, m³/m³ (judgement). */
const LEAST_SPAN_M3_PER_M3 = 0.02;
/** Scatter about the monotone fit above this share of the span: the points contradict each other (judgement). */
const LARGEST_SCATTER_SHARE = 0.25;
function problem(code: CalibrationProblem['code'], message: string) {
  return { ok: false, problem: { code, message } } as const;
}

/** Points of one voltage become their mean: a block weighed twice. */
function mergedByVoltage(points: readonly CalibrationPoint[]): IsotonicLevel[] {
  const merged: IsotonicLevel[] = [];
  for (const { volts, waterContentM3PerM3 } of [...points].sort((a, b) => a.volts - b.volts)) {
    const level = { x: volts, y: waterContentM3PerM3, count: 1 };
    const before = merged.at(-1);
    if (before !== undefined && before.x === volts) merged[merged.length - 1] = pooled(before, level);
    else merged.push(level);
  }
  return merged;
}

interface Trend {
  readonly direction: 1 | -1;
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly levelCount: number;
  readonly scatter: number;
}

/** How well the points fit "wetter this way". */
function trend(points: readonly IsotonicLevel[], direction: 1 | -1): Trend {
  const ordered = direction === 1 ? points : points.toReversed();
  const x = ordered.map((point) => direction * point.x);
  const y = ordered.map((point) => point.y);
  const levels = isotonicLevels(x, y);
  return { direction, x, y, levelCount: levels.length, scatter: scatterAbout(levels, y) };
}

/**
 * Orders and checks gravimetric points: any number from two, in any order, a few out of order through noise.
 */
export function calibrationLevels(
  points: readonly CalibrationPoint[],
): OrderedPoints | { readonly ok: false; readonly problem: CalibrationProblem } {
  if (points.some((point) => !Number.isFinite(point.volts) || !Number.isFinite(point.waterContentM3PerM3)))
    return problem('not-a-number', 'a calibration point is not a number; give volts and m3/m3 for each');
  if (points.length < 2)
    return problem(
      'too-few',
      `${points.length} calibration point(s); weigh the witness block at two moistures or more`,
    );
  const merged = mergedByVoltage(points);
  const spanV = (merged.at(-1)?.x ?? 0) - (merged[0]?.x ?? 0);
  if (spanV < LEAST_SPAN_V)
    return problem(
      'one-voltage',
      `all calibration points lie within ${spanV.toFixed(3)} V; expected ${LEAST_SPAN_V} V or more between dry and wet: is the probe in the block?`,
    );
  const contents = points.map((point) => point.waterContentM3PerM3);
  const span = Math.max(...contents) - Math.min(...contents);
  if (span < LEAST_SPAN_M3_PER_M3)
    return problem(
      'too-alike',
      `the calibration points differ by ${span.toFixed(3)} m3/m3 only; weigh the block at two clearly different moistures`,
    );
  const rising = trend(merged, 1);
  const falling = trend(merged, -1);
  const { direction, x, y, levelCount, scatter } = rising.scatter < falling.scatter ? rising : falling;
  if (levelCount < 2 || scatter > LARGEST_SCATTER_SHARE * span)
    return problem(
      'contradictory',
      `the calibration points neither rise nor fall with the voltage (scatter ${scatter.toFixed(3)} m3/m3); weigh again and give each point its own voltage`,
    );
  return { ok: true, direction, x, waterContentM3PerM3: y };
}
