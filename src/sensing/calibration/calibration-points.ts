import type { CalibrationPoint } from '../../../shared/config/probes.js';
import { type IsotonicLevel, isotonicLevels, pooled } from './isotonic.js';

/** Why no curve can be drawn through a set of points. `message` says what to do. */
export interface CalibrationProblem {
  readonly code: 'too-few' | 'not-a-number' | 'one-voltage' | 'too-alike' | 'contradictory';
  readonly message: string;
}

/** Points made ready for a curve: levels that rise strictly in the probe's wetter direction, and their scatter. */
export interface CalibrationLevels {
  readonly ok: true;
  /** +1 when the voltage rises with wetness, −1 when it falls. */
  readonly direction: 1 | -1;
  /** x = direction × volts. */
  readonly levels: readonly IsotonicLevel[];
  readonly driestX: number;
  readonly wettestX: number;
  readonly residualSdM3PerM3: number;
}

/** Less than this between the ends is within a converter's noise, V (judgement: ten steps of 10 bits on 5 V). */
const LEAST_SPAN_V = 0.05;
/** Less than this between driest and wettest is within a scale's error, m³/m³ (judgement). */
const LEAST_SPAN_M3_PER_M3 = 0.02;
/** Scatter about the monotone fit above this share of the span: the points contradict each other (judgement). */
const LARGEST_SCATTER_SHARE = 0.25;
/**
 * Error of a reading that a calibration's own points cannot show, m³/m³. A site-specific calibration of a capacitance
 * probe left 0.0103 (Domínguez-Niño et al. 2019, Sensors 19:3101); two points cannot show how the curve bends between
 * them, and get the middle between that and the 0.0533 of a factory calibration (same source).
 */
const BEST_SD_M3_PER_M3 = 0.0103;
const TWO_POINT_SD_M3_PER_M3 = 0.03;

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

interface Fit {
  readonly direction: 1 | -1;
  readonly levels: IsotonicLevel[];
  readonly sumOfSquares: number;
}

function monotoneFit(points: readonly IsotonicLevel[], direction: 1 | -1): Fit {
  const ordered = direction === 1 ? points : [...points].reverse();
  const x = ordered.map((point) => direction * point.x);
  const levels = isotonicLevels(
    x,
    ordered.map((point) => point.y),
  );
  let index = 0;
  let sumOfSquares = 0;
  for (const level of levels) {
    for (let i = 0; i < level.count; i++) sumOfSquares += ((ordered[index++]?.y ?? level.y) - level.y) ** 2;
  }
  return { direction, levels, sumOfSquares };
}

/** Pools levels whose step is smaller than the scatter: noise must not become a staircase. */
function smoothed(levels: readonly IsotonicLevel[], scatter: number): IsotonicLevel[] {
  const smooth = [...levels];
  while (smooth.length > 2) {
    let smallest = 1;
    for (let i = 2; i < smooth.length; i++) if (step(smooth, i) < step(smooth, smallest)) smallest = i;
    if (step(smooth, smallest) >= scatter) break;
    const [a, b] = smooth.slice(smallest - 1, smallest + 1);
    if (a !== undefined && b !== undefined) smooth.splice(smallest - 1, 2, pooled(a, b));
  }
  return smooth;
}

function step(levels: readonly IsotonicLevel[], index: number): number {
  return (levels[index]?.y ?? 0) - (levels[index - 1]?.y ?? 0);
}

/**
 * Orders, checks and pools gravimetric points. Any number from two, in any order; a few that break the order through
 * noise are pooled, and their scatter is carried on.
 */
export function calibrationLevels(
  points: readonly CalibrationPoint[],
): CalibrationLevels | { readonly ok: false; readonly problem: CalibrationProblem } {
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
  const rising = monotoneFit(merged, 1);
  const falling = monotoneFit(merged, -1);
  const fit = rising.sumOfSquares < falling.sumOfSquares ? rising : falling;
  const scatter = Math.sqrt(fit.sumOfSquares / Math.max(1, merged.length - fit.levels.length));
  if (fit.levels.length < 2 || scatter > LARGEST_SCATTER_SHARE * span)
    return problem(
      'contradictory',
      `the calibration points neither rise nor fall with the voltage (scatter ${scatter.toFixed(3)} m3/m3); weigh again and give each point its own voltage`,
    );
  const edges = [fit.direction * (merged[0]?.x ?? 0), fit.direction * (merged.at(-1)?.x ?? 0)];
  return {
    ok: true,
    direction: fit.direction,
    levels: smoothed(fit.levels, scatter),
    driestX: Math.min(...edges),
    wettestX: Math.max(...edges),
    residualSdM3PerM3: Math.max(scatter, points.length === 2 ? TWO_POINT_SD_M3_PER_M3 : BEST_SD_M3_PER_M3),
  };
}
