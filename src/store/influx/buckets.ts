import type { ReadingBucket } from '../../monitor/ports.js';
import { type InfluxRow, numberOf } from './rows.js';

type Values = Pick<ReadingBucket, 'min' | 'mean' | 'max'>;

/** Buckets from those of believed and those of flagged readings, by the same rule as the other stores. */
export function mergeBuckets(
  believed: readonly InfluxRow[],
  flagged: readonly InfluxRow[],
): readonly ReadingBucket[] {
  const byTime = (rows: readonly InfluxRow[]) =>
    new Map(rows.map((row) => [numberOf(row, 'time') ?? 0, row] as const));
  const good = byTime(believed);
  const bad = byTime(flagged);
  return [...new Set([...good.keys(), ...bad.keys()])]
    .sort((a, b) => a - b)
    .flatMap((atMs) => {
      const [goodRow, badRow] = [good.get(atMs), bad.get(atMs)];
      const values = valuesOf(goodRow) ?? valuesOf(badRow);
      if (values === undefined) return [];
      const flaggedCount = countOf(badRow);
      return [{ atMs, ...values, count: countOf(goodRow) + flaggedCount, flaggedCount }];
    });
}

function countOf(row: InfluxRow | undefined): number {
  return row === undefined ? 0 : (numberOf(row, 'count') ?? 0);
}

/** The converted values where there are any, else the raw ones. */
function valuesOf(row: InfluxRow | undefined): Values | undefined {
  if (row === undefined) return undefined;
  for (const kind of ['water', 'raw']) {
    const min = numberOf(row, `${kind}Min`);
    const mean = numberOf(row, `${kind}Mean`);
    const max = numberOf(row, `${kind}Max`);
    if (min !== undefined && mean !== undefined && max !== undefined) return { min, mean, max };
  }
  return undefined;
}
