import type { Verdict } from './column-kind.js';

/** Values of a nameless column, in the order of time. */
interface Nameless {
  readonly index: number;
  readonly values: readonly number[];
}

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

function correlation(a: readonly number[], b: readonly number[]): number {
  const [meanA, meanB] = [mean(a), mean(b)];
  let [ab, aa, bb] = [0, 0, 0];
  for (let i = 0; i < Math.min(a.length, b.length); i++) {
    const [da, db] = [(a[i] ?? meanA) - meanA, (b[i] ?? meanB) - meanB];
    ab += da * db;
    aa += da * da;
    bb += db * db;
  }
  return aa === 0 || bb === 0 ? 0 : ab / Math.sqrt(aa * bb);
}

/** A block falls slowly and is filled at once: its largest rise is many times its largest fall. */
function isSawtooth(values: readonly number[]): boolean {
  let [rise, fall] = [0, 0];
  for (let i = 1; i < values.length; i++) {
    const step = (values[i] ?? 0) - (values[i - 1] ?? 0);
    rise = Math.max(rise, step);
    fall = Math.max(fall, -step);
  }
  return rise > 4 * fall && rise > 0;
}

/**
 * What columns without names may be, by the shape of their values alone: shares of one and sawteeth are blocks; what is
 * dark for a quarter of the time and bright beyond 500 is light; of two that go against each other the cooler is temperature.
 * Judgement; every verdict is unsure.
 */
export function guessKinds(columns: readonly Nameless[]): ReadonlyMap<number, Verdict> {
  const guessed = new Map<number, Verdict>();
  const guess = (
    index: number,
    kind: Exclude<Verdict['kind'], undefined>,
    unit: '°C' | '%' | 'lx' | 'm3/m3' | 'counts',
  ): void => {
    guessed.set(index, { kind, unit, isSure: false });
  };
  const rest: Nameless[] = [];
  for (const column of columns) {
    const { index, values } = column;
    const [least, most] = [Math.min(...values), Math.max(...values)];
    const dark = values.filter((value) => value < most / 100).length / values.length;
    if (least >= 0 && most <= 1 && most > 0) guess(index, 'block-moisture', 'm3/m3');
    else if (most > 500 && dark > 1 / 4 && least >= 0) guess(index, 'light', 'lx');
    else if (isSawtooth(values) && least >= 0) guess(index, 'block-moisture', most <= 100 ? '%' : 'counts');
    else if (least > -40 && most <= 100) rest.push(column);
  }
  const [first, second] = rest;
  if (first !== undefined && second !== undefined && correlation(first.values, second.values) < 0) {
    const [cool, moist] = mean(first.values) <= mean(second.values) ? [first, second] : [second, first];
    guess(cool.index, 'air-temperature', '°C');
    guess(moist.index, 'relative-humidity', '%');
  } else if (first !== undefined && second === undefined && Math.max(...first.values) <= 60)
    guess(first.index, 'air-temperature', '°C');
  return guessed;
}
