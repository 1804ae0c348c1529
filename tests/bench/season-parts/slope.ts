/** A straight line through points, with the standard error of its slope. */
export interface Slope {
  readonly at0: number;
  readonly perDay: number;
  readonly error: number;
}

/** Least squares through (day, value); needs three points. */
export function slopeOf(points: readonly (readonly [day: number, value: number])[]): Slope {
  const count = points.length;
  const meanDay = points.reduce((sum, [day]) => sum + day, 0) / count;
  const meanValue = points.reduce((sum, [, value]) => sum + value, 0) / count;
  const spread = points.reduce((sum, [day]) => sum + (day - meanDay) ** 2, 0);
  const perDay =
    points.reduce((sum, [day, value]) => sum + (day - meanDay) * (value - meanValue), 0) / spread;
  const at0 = meanValue - perDay * meanDay;
  const residual = points.reduce((sum, [day, value]) => sum + (value - at0 - perDay * day) ** 2, 0);
  return { at0, perDay, error: Math.sqrt(residual / (count - 2) / spread) };
}
