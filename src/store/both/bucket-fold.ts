import type { ReadingBucket, Span } from '../../monitor/ports/ports.js';

/**
 * What shapes a bucket's min, mean and max, best last. Believed readings go before flagged ones, and converted
 * values before raw ones, since the two must not be mixed in one mean.
 */
export type Basis = 0 | 1 | 2 | 3;

/** A group of readings of one probe, as a roll-up keeps it; one reading is the smallest group. */
export interface Folded {
  readonly basis: Basis;
  /** Readings whose value shapes min, mean and max; 0 when none has a value. */
  readonly valueCount: number;
  readonly count: number;
  readonly flaggedCount: number;
  readonly min: number;
  readonly mean: number;
  readonly max: number;
}

function basisOf(isGood: boolean, isConverted: boolean): Basis {
  if (!isGood) return isConverted ? 1 : 0;
  return isConverted ? 3 : 2;
}

/** Gathers groups of readings into one. Order does not matter, and groups of groups give what their readings give. */
export class BucketFold {
  #basis: Basis = 0;
  #valueCount = 0;
  #count = 0;
  #flaggedCount = 0;
  #min = Number.POSITIVE_INFINITY;
  #max = Number.NEGATIVE_INFINITY;
  #sum = 0;

  /** `isGood`: by `isBelieved`. */
  addReading(isGood: boolean, waterContentM3PerM3: number | undefined, rawValue: number | undefined): void {
    this.#count += 1;
    if (!isGood) this.#flaggedCount += 1;
    const value = waterContentM3PerM3 ?? rawValue;
    if (value === undefined) return;
    this.#addValues(basisOf(isGood, waterContentM3PerM3 !== undefined), 1, value, value, value);
  }

  addFolded(group: Folded): void {
    this.#count += group.count;
    this.#flaggedCount += group.flaggedCount;
    if (group.valueCount > 0)
      this.#addValues(group.basis, group.valueCount, group.min, group.mean * group.valueCount, group.max);
  }

  #addValues(basis: Basis, valueCount: number, min: number, sum: number, max: number): void {
    if (this.#valueCount > 0 && basis < this.#basis) return;
    if (this.#valueCount === 0 || basis > this.#basis) {
      this.#basis = basis;
      this.#valueCount = 0;
      this.#sum = 0;
      this.#min = Number.POSITIVE_INFINITY;
      this.#max = Number.NEGATIVE_INFINITY;
    }
    this.#valueCount += valueCount;
    this.#sum += sum;
    if (min < this.#min) this.#min = min;
    if (max > this.#max) this.#max = max;
  }

  folded(): Folded {
    const hasValue = this.#valueCount > 0;
    return {
      basis: this.#basis,
      valueCount: this.#valueCount,
      count: this.#count,
      flaggedCount: this.#flaggedCount,
      min: hasValue ? this.#min : 0,
      mean: hasValue ? this.#sum / this.#valueCount : 0,
      max: hasValue ? this.#max : 0,
    };
  }
}

/** Deals groups of readings out to the buckets of a chart. Edges lie on whole multiples of `stepMs`. */
export class ChartFold {
  readonly #span: Span;
  readonly #bucketCount: number;
  readonly #widthMs: number;
  readonly #stepMs: number;
  readonly #folds = new Map<number, BucketFold>();

  constructor(span: Span, bucketCount: number, stepMs = 1) {
    this.#span = span;
    this.#bucketCount = bucketCount;
    this.#widthMs = (span.toMs - span.fromMs) / bucketCount;
    this.#stepMs = stepMs;
  }

  at(atMs: number): BucketFold {
    const index = Math.min(
      this.#bucketCount - 1,
      Math.max(0, Math.floor((atMs - this.#span.fromMs) / this.#widthMs)),
    );
    let fold = this.#folds.get(index);
    if (fold === undefined) {
      fold = new BucketFold();
      this.#folds.set(index, fold);
    }
    return fold;
  }

  buckets(): readonly ReadingBucket[] {
    return [...this.#folds]
      .sort(([a], [b]) => a - b)
      .flatMap(([index, fold]) => {
        const { valueCount, min, mean, max, count, flaggedCount } = fold.folded();
        if (valueCount === 0) return [];
        const edgeMs = this.#span.fromMs + index * this.#widthMs;
        const atMs = Math.round(index === 0 ? edgeMs : Math.ceil(edgeMs / this.#stepMs) * this.#stepMs);
        return [{ atMs, min, mean, max, count, flaggedCount }];
      });
  }
}
