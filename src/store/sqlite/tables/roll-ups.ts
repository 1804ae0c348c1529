import type { Database, Statement } from '../../../host/disk/sqlite.js';
import type { Basis, Folded } from '../../both/bucket-fold.js';
import { BucketFold } from '../../both/bucket-fold.js';
import { foldRawRows } from './fold-raw-rows.js';
import type { Marks } from './marks.js';

export const TEN_MINUTES_MS = 600_000;
export const HOUR_MS = 3_600_000;

export interface RollUpLevel {
  readonly table: 'roll_up_10min' | 'roll_up_hour';
  readonly stepMs: number;
}

export const ROLL_UP_LEVELS: readonly RollUpLevel[] = [
  { table: 'roll_up_10min', stepMs: TEN_MINUTES_MS },
  { table: 'roll_up_hour', stepMs: HOUR_MS },
];

/** How long after an hour's end its readings may still be on their way before it is rolled up; later ones are added. */
const SETTLE_MS = 120_000;

export interface RollUpRow {
  readonly step: number;
  readonly basis: Basis;
  readonly valueCount: number;
  readonly count: number;
  readonly flaggedCount: number;
  readonly min: number;
  readonly mean: number;
  readonly max: number;
}

const columns = `step, basis, value_count AS valueCount, reading_count AS count, flagged_count AS flaggedCount,
  min_value AS min, mean_value AS mean, max_value AS max`;

/** Roll-ups of one probe's series within [fromMs, toMs), a step counted by its beginning. */
export function readRollUps(
  db: Database,
  { table, stepMs }: RollUpLevel,
  seriesIds: readonly number[],
  fromMs: number,
  toMs: number,
): readonly RollUpRow[] {
  return db
    .prepare<unknown[], RollUpRow>(
      `SELECT ${columns} FROM ${table} WHERE series_id IN (${seriesIds.join(', ')}) AND step >= ? AND step < ?`,
    )
    .all(Math.floor(fromMs / stepMs), Math.ceil(toMs / stepMs));
}

/**
 * Keeps the roll-ups in step with the readings. Whole hours are rolled up once, when they are over, so that a batch of
 * readings touches few pages; readings that come later than that correct the steps they fall into.
 */
export class RollUps {
  readonly #db: Database;
  readonly #marks: Marks;
  readonly #write: readonly { readonly stepMs: number; readonly put: Statement }[];

  constructor(db: Database, marks: Marks) {
    this.#db = db;
    this.#marks = marks;
    this.#write = ROLL_UP_LEVELS.map(({ table, stepMs }) => ({
      stepMs,
      put: db.prepare(
        `INSERT OR REPLACE INTO ${table} (series_id, step, basis, value_count, reading_count, flagged_count,
         min_value, mean_value, max_value) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
      ),
    }));
  }

  rolledUntilMs(): number | undefined {
    return this.#marks.get('rolled-until-ms');
  }

  /** Rolls up the hours that were over `SETTLE_MS` ago. Call inside a transaction. */
  rollUp(nowMs: number): void {
    const untilMs = Math.floor((nowMs - SETTLE_MS) / HOUR_MS) * HOUR_MS;
    const fromMs = this.rolledUntilMs() ?? this.#firstHourMs(untilMs);
    if (fromMs >= untilMs) return;
    this.#rollRange(fromMs, untilMs, undefined);
    this.#marks.set('rolled-until-ms', untilMs);
  }

  #firstHourMs(untilMs: number): number {
    const first = this.#db
      .prepare<unknown[], number | null>('SELECT min(observed_at_ms) FROM reading')
      .pluck()
      .get();
    return first === null || first === undefined ? untilMs : Math.floor(first / HOUR_MS) * HOUR_MS;
  }

  /** Rolls the hour that holds this instant up again, for one series whose reading came late. */
  correct(seriesId: number, atMs: number): void {
    const fromMs = Math.floor(atMs / HOUR_MS) * HOUR_MS;
    this.#rollRange(fromMs, fromMs + HOUR_MS, seriesId);
  }

  /** Adds a reading to hours whose single readings are no longer kept. */
  addToOld(seriesId: number, atMs: number, group: Folded): void {
    for (const [index, level] of ROLL_UP_LEVELS.entries()) {
      const step = Math.floor(atMs / level.stepMs);
      const [before] = readRollUps(
        this.#db,
        level,
        [seriesId],
        step * level.stepMs,
        (step + 1) * level.stepMs,
      );
      const fold = new BucketFold();
      if (before !== undefined) fold.addFolded(before);
      fold.addFolded(group);
      this.#put(index, seriesId, step, fold.folded());
    }
  }

  #rollRange(fromMs: number, toMs: number, seriesId: number | undefined): void {
    ROLL_UP_LEVELS.forEach(({ stepMs }, index) => {
      const folds = new Map<number, Map<number, BucketFold>>();
      foldRawRows(this.#db, { fromMs, toMs }, seriesId === undefined ? undefined : [seriesId], (id, atMs) => {
        const ofSeries = getOrAdd(folds, id, () => new Map<number, BucketFold>());
        return getOrAdd(ofSeries, Math.floor(atMs / stepMs), () => new BucketFold());
      });
      for (const [id, ofSeries] of folds)
        for (const [step, fold] of ofSeries) this.#put(index, id, step, fold.folded());
    });
  }

  #put(level: number, seriesId: number, step: number, group: Folded): void {
    this.#write[level]?.put.run(
      seriesId,
      step,
      group.basis,
      group.valueCount,
      group.count,
      group.flaggedCount,
      group.min,
      group.mean,
      group.max,
    );
  }
}

function getOrAdd<K, V>(map: Map<K, V>, key: K, make: () => V): V {
  const found = map.get(key);
  if (found !== undefined) return found;
  const made = make();
  map.set(key, made);
  return made;
}
