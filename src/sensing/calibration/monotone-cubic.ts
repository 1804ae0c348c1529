/** A curve that rises strictly, its slope, and both carried on beyond its ends. */
export interface RisingCurve {
  readonly valueAt: (x: number) => number;
  readonly slopeAt: (x: number) => number;
}

/** An end never turns flatter than this share of its segment: a curve carried on beyond it must keep rising. */
const FLATTEST_END = 0.3;

/** Weighted harmonic mean of two secants: keeps a cubic between them monotone (Fritsch & Butland 1984, Eq 4). */
function innerSlope(h0: number, h1: number, secant0: number, secant1: number): number {
  const w0 = 2 * h1 + h0;
  const w1 = h1 + 2 * h0;
  return (w0 + w1) / (w0 / secant0 + w1 / secant1);
}

/** Three-point end slope, kept between the flattest end and three secants (monotone region of Fritsch & Carlson). */
function endSlope(h0: number, h1: number, secant0: number, secant1: number): number {
  const slope = ((2 * h0 + h1) * secant0 - h0 * secant1) / (h0 + h1);
  return Math.min(3 * secant0, Math.max(FLATTEST_END * secant0, slope));
}

/**
 * The piecewise cubic curve (Fritsch & Butland 1984) through knots whose x and y both rise strictly, straight beyond the
 * ends; two knots make a straight line. Throws RangeError when
 * there are fewer than two or one does not rise.
 */
export function monotoneCubic(x: readonly number[], y: readonly number[]): RisingCurve {
  const xs = Float64Array.from(x);
  const ys = Float64Array.from(y);
  const last = xs.length - 1;
  if (last < 1 || ys.length !== xs.length) throw new RangeError('a curve needs two knots or more');
  const at = (list: Float64Array, i: number): number => list[i] ?? 0;
  const width = new Float64Array(last);
  const secant = new Float64Array(last);
  for (let i = 0; i < last; i++) {
    width[i] = at(xs, i + 1) - at(xs, i);
    secant[i] = (at(ys, i + 1) - at(ys, i)) / at(width, i);
    if (!(at(width, i) > 0 && at(secant, i) > 0))
      throw new RangeError('knots of a rising curve must rise strictly');
  }
  const slope = new Float64Array(last + 1);
  if (last === 1) slope.fill(at(secant, 0));
  else {
    slope[0] = endSlope(at(width, 0), at(width, 1), at(secant, 0), at(secant, 1));
    slope[last] = endSlope(
      at(width, last - 1),
      at(width, last - 2),
      at(secant, last - 1),
      at(secant, last - 2),
    );
    for (let i = 1; i < last; i++)
      slope[i] = innerSlope(at(width, i - 1), at(width, i), at(secant, i - 1), at(secant, i));
  }
  const segmentOf = (value: number): number => {
    let i = 0;
    while (i < last - 1 && value > at(xs, i + 1)) i++;
    return i;
  };
  return {
    valueAt(value) {
      if (value <= at(xs, 0)) return at(ys, 0) + at(slope, 0) * (value - at(xs, 0));
      if (value >= at(xs, last)) return at(ys, last) + at(slope, last) * (value - at(xs, last));
      const i = segmentOf(value);
      const h = at(width, i);
      const t = (value - at(xs, i)) / h;
      const u = 1 - t;
      return (
        at(ys, i) * u * u * (1 + 2 * t) +
        at(ys, i + 1) * t * t * (3 - 2 * t) +
        h * t * u * (at(slope, i) * u - at(slope, i + 1) * t)
      );
    },
    slopeAt(value) {
      if (value <= at(xs, 0)) return at(slope, 0);
      if (value >= at(xs, last)) return at(slope, last);
      const i = segmentOf(value);
      const t = (value - at(xs, i)) / at(width, i);
      const u = 1 - t;
      return 6 * t * u * at(secant, i) + at(slope, i) * u * (u - 2 * t) + at(slope, i + 1) * t * (t - 2 * u);
    },
  };
}
