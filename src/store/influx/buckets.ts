import type { ReadingBucket } from '../../monitor/ports/ports.js';
import { type InfluxRow, numberOf } from './rows.js';

type Values = Pick<ReadingBucket, 'min' | 'mean' | 'max'>;

/** Rows of one bucket by name of the column. */
type Bucket = ReadonlyMap<string, unknown>;

export interface MergedBuckets {
  readonly buckets: readonly ReadingBucket[];
  /** False when a bucket has readings and no value among the rows given. */
  readonly isComplete: boolean;
}

/** The aggregates of one field, named for `mergeBuckets`. */
export function spreadOf(field: string, name: 'water' | 'raw'): readonly string[] {
  return [`min(${field}) AS ${name}Min`, `mean(${field}) AS ${name}Mean`, `max(${field}) AS ${name}Max`];
}

/**
 * Buckets from the answers about believed and those about flagged readings, by the same rule as the other stores: believed
 * before flagged, converted before raw.
 */
export function mergeBuckets(
  believed: readonly (readonly InfluxRow[])[],
  flagged: readonly (readonly InfluxRow[])[],
): MergedBuckets {
  const [good, bad] = [byTime(believed), byTime(flagged)];
  let isComplete = true;
  const buckets = [...new Set([...good.keys(), ...bad.keys()])]
    .sort((a, b) => a - b)
    .flatMap((atMs) => {
      const [goodBucket, badBucket] = [good.get(atMs), bad.get(atMs)];
      const values = valuesOf(goodBucket) ?? valuesOf(badBucket);
      if (values === undefined) {
        isComplete = false;
        return [];
      }
      const flaggedCount = countOf(badBucket);
      return [{ atMs, ...values, count: countOf(goodBucket) + flaggedCount, flaggedCount }];
    });
  return { buckets, isComplete };
}

/** Joins several answers; a column that one of them leaves out or empty does not hide another's. */
function byTime(answers: readonly (readonly InfluxRow[])[]): ReadonlyMap<number, Bucket> {
  const joined = new Map<number, Map<string, unknown>>();
  for (const row of answers.flat()) {
    const atMs = numberOf(row, 'time') ?? 0;
    const bucket = joined.get(atMs) ?? new Map<string, unknown>();
    for (const [name, value] of row) if (value !== null) bucket.set(name, value);
    joined.set(atMs, bucket);
  }
  return joined;
}

function countOf(bucket: Bucket | undefined): number {
  return bucket === undefined ? 0 : (numberOf(bucket, 'count') ?? 0);
}

/** The converted values where there are any, else the raw ones. */
function valuesOf(bucket: Bucket | undefined): Values | undefined {
  if (bucket === undefined) return undefined;
  for (const kind of ['water', 'raw']) {
    const min = numberOf(bucket, `${kind}Min`);
    const mean = numberOf(bucket, `${kind}Mean`);
    const max = numberOf(bucket, `${kind}Max`);
    if (min !== undefined && mean !== undefined && max !== undefined) return { min, mean, max };
  }
  return undefined;
}
