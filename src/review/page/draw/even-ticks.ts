/** Steps that people count in. */
const STEPS = [1, 2, 5, 10];
const HOUR_STEPS = [1, 2, 3, 6, 12, 24, 48, 96, 168];

/** Round values within a range, at most `most` of them. */
export function evenTicks(from: number, to: number, most: number): number[] {
  const raw = (to - from) / most;
  const power = 10 ** Math.floor(Math.log10(raw));
  const step = (STEPS.find((one) => one * power >= raw) ?? 10) * power;
  return ticksBy(step, from, to);
}

/** Hours within a range, at most `most` of them, by steps that fit into days. */
export function hourTicks(from: number, to: number, most: number): number[] {
  const raw = (to - from) / most;
  return ticksBy(HOUR_STEPS.find((one) => one >= raw) ?? raw, from, to);
}

function ticksBy(step: number, from: number, to: number): number[] {
  const first = Math.ceil(from / step);
  const count = Math.floor(to / step) - first + 1;
  return Array.from({ length: Math.max(0, count) }, (_, place) => (first + place) * step);
}
