import { bentCurve } from './bent-curve.js';
import { type IsotonicLevel, isotonicLevels, pooled } from './isotonic.js';
import { monotoneCubic, type RisingCurve } from './monotone-cubic.js';

/** The curve of a calibration, and how wrong a reading between its points may be. */
export interface ChosenCurve {
  readonly curve: RisingCurve;
  readonly residualSdM3PerM3: number;
}

/**
 * Error of a reading that a calibration's own points cannot show, m³/m³: a site-specific calibration of a capacitance
 * probe left 0.0103 (Domínguez-Niño et al. 2019, Sensors 19:3101).
 */
const BEST_SD_M3_PER_M3 = 0.0103;
/**
 * Two to four points cannot show how the curve bends between them nor how they scatter. Between the best and the 0.0533
 * of a factory calibration (same source), after trials on probes of four shapes with weighing errors of 0.02.
 */
const FEW_POINTS_SD_M3_PER_M3: Readonly<Record<number, number>> = { 2: 0.03, 3: 0.025, 4: 0.02 };
/** From this many points on they judge themselves, each left out in turn. */
const SELF_JUDGING_POINTS = 5;
/** A point left out widens the gap to its neighbours: the miss there overstates the error (same trials: 0.65 to 0.8). */
const LEFT_OUT_SHARE = 0.75;
/** Of many points this many are left out, evenly chosen: enough to tell, and quick. */
const MOST_LEFT_OUT = 24;
/** The bent curve must beat the interpolation by this much where points are left out. */
const CLEARLY_BETTER = 0.9;

/** Points that break the order are pooled, then levels closer than the scatter: noise must not become a staircase. */
export function interpolation(x: readonly number[], y: readonly number[]): RisingCurve | undefined {
  const levels = isotonicLevels(x, y);
  const scatter = scatterAbout(levels, y);
  while (levels.length > 2) {
    let smallest = 1;
    for (let i = 2; i < levels.length; i++) if (step(levels, i) < step(levels, smallest)) smallest = i;
    if (step(levels, smallest) >= scatter) break;
    const [a, b] = levels.slice(smallest - 1, smallest + 1);
    if (a !== undefined && b !== undefined) levels.splice(smallest - 1, 2, pooled(a, b));
  }
  if (levels.length < 2) return undefined;
  return monotoneCubic(
    levels.map((level) => level.x),
    levels.map((level) => level.y),
  );
}

/** Root mean square distance of points from their isotonic levels, per degree of freedom; 0 when all are in order. */
export function scatterAbout(levels: readonly IsotonicLevel[], y: readonly number[]): number {
  let index = 0;
  let sum = 0;
  for (const level of levels)
    for (let i = 0; i < level.count; i++) sum += ((y[index++] ?? level.y) - level.y) ** 2;
  return Math.sqrt(sum / Math.max(1, y.length - levels.length));
}

function step(levels: readonly IsotonicLevel[], index: number): number {
  return (levels[index]?.y ?? 0) - (levels[index - 1]?.y ?? 0);
}

/** Root mean square miss of inner points, each left out in turn; Infinity when a fit fails. */
function leaveOneOut(
  curveOf: (x: readonly number[], y: readonly number[]) => RisingCurve | undefined,
  x: readonly number[],
  y: readonly number[],
): number {
  const inner = x.length - 2;
  const count = Math.min(inner, MOST_LEFT_OUT);
  let sum = 0;
  for (let k = 0; k < count; k++) {
    const i = 1 + Math.floor(((k + 0.5) * inner) / count);
    const curve = curveOf(x.toSpliced(i, 1), y.toSpliced(i, 1));
    sum += curve === undefined ? Number.POSITIVE_INFINITY : (curve.valueAt(x[i] ?? 0) - (y[i] ?? 0)) ** 2;
  }
  return Math.sqrt(sum / count);
}

/**
 * Two to four points are interpolated. From five on a curve with one bend is fitted as well, and the one that better
 * foretells points left out is taken: interpolation where the points are clean, the smooth curve where weighing errors
 * show. Undefined when nothing rises. `x` ascends in the wetter direction.
 */
export function chooseCurve(x: readonly number[], y: readonly number[]): ChosenCurve | undefined {
  const through = interpolation(x, y);
  if (x.length < SELF_JUDGING_POINTS)
    return (
      through && { curve: through, residualSdM3PerM3: FEW_POINTS_SD_M3_PER_M3[x.length] ?? BEST_SD_M3_PER_M3 }
    );
  const bent = bentCurve(x, y);
  const throughMiss = leaveOneOut(interpolation, x, y);
  const bentMiss = leaveOneOut(bentCurve, x, y);
  const smooth = bent !== undefined && bentMiss < CLEARLY_BETTER * throughMiss;
  const curve = smooth ? bent : through;
  const miss = LEFT_OUT_SHARE * (smooth ? bentMiss : throughMiss);
  return curve && { curve, residualSdM3PerM3: Math.max(BEST_SD_M3_PER_M3, Number.isFinite(miss) ? miss : 0) };
}
