import { join } from 'node:path';
import type { Database } from 'better-sqlite3';
import type { Fact } from '../../monitor/facts.js';
import type { Clock, FactStore, ReviewQueries } from '../../monitor/ports.js';
import { Batching, type BatchSettings, type Health } from '../batching.js';
import { BatchWriter } from './batch-writer.js';
import { checkAtStart } from './integrity.js';
import { Marks } from './marks.js';
import { pruneForecasts, pruneReadings } from './retention.js';
import { toStoreError } from './sqlite-errors.js';
import { SqliteReview } from './sqlite-review.js';
import { ensureFolder, LOCK_FILE, openForWriting, STORE_FILE } from './store-file.js';
import { takeWriterLock, type WriterLock } from './writer-lock.js';

export interface SqliteStoreOptions extends BatchSettings {
  readonly folder: string;
  readonly clock: Clock;
  /** Single readings older than this are deleted, roll-ups kept; 800 days when absent. */
  readonly readingsDays?: number | undefined;
  /** Forecasts older than this are deleted; kept for ever when absent. */
  readonly forecastsDays?: number | undefined;
  /** How the file is opened; tests hand in a disk that fills up. */
  readonly openFile?: ((folder: string) => Database) | undefined;
}

const MS_PER_DAY = 86_400_000;
const READINGS_DAYS = 800;

/**
 * Opens the embedded store, making or bringing up to date its file. Throws a StoreError when it can't be used: `folder-missing`,
 * `read-only`, `corrupt`, `newer-version`, `not-a-store`, `in-use`.
 */
export function openSqliteStore(options: SqliteStoreOptions): FactStore & ReviewQueries {
  return new SqliteStore(options);
}

class SqliteStore extends SqliteReview implements FactStore {
  readonly #db: Database;
  readonly #lock: WriterLock;
  readonly #writer: BatchWriter;
  readonly #batching: Batching;
  readonly #clock: Clock;
  readonly #options: SqliteStoreOptions;
  readonly #heldStates = new Map<string, string>();
  #prunedAtMs = Number.NEGATIVE_INFINITY;

  constructor(options: SqliteStoreOptions) {
    const lock = lockFolder(options.folder);
    const db = openChecked(options.folder, options.openFile ?? openForWriting, lock);
    super(db);
    this.#lock = lock;
    this.#db = db;
    this.#clock = options.clock;
    this.#options = options;
    this.#writer = new BatchWriter(db);
    this.#batching = new Batching(
      options.clock,
      {
        write: (facts, isUrgent) => this.#writer.write(facts, this.#clock.nowMs(), isUrgent),
        upkeep: () => this.#upkeep(),
        judge: (cause) => toStoreError('write to the store', cause),
      },
      options,
    );
  }

  async keep(facts: readonly Fact[]): Promise<void> {
    this.#batching.keep(facts);
  }

  async flush(): Promise<void> {
    this.#batching.flush();
  }

  async saveState(name: string, state: unknown): Promise<void> {
    this.#batching.refuseWhenClosed(`save the state "${name}"`);
    this.#heldStates.set(name, JSON.stringify(state));
    if (this.#batching.trouble === undefined) this.#batching.attempt(() => this.#writeStates());
    else this.#batching.write();
  }

  async loadState(name: string): Promise<unknown> {
    const held = this.#heldStates.get(name);
    if (held !== undefined) return JSON.parse(held);
    const body = this.#db
      .prepare<unknown[], string>('SELECT body FROM state WHERE name = ?')
      .pluck()
      .get(name);
    return body === undefined ? undefined : JSON.parse(body);
  }

  health(): Health {
    return this.#batching.health();
  }

  async close(): Promise<void> {
    await this.#batching.close(() => {
      try {
        if (this.#batching.trouble === undefined) new Marks(this.#db).set('closed-cleanly', 1);
      } finally {
        this.#db.close();
        this.#lock.release();
      }
    });
  }

  #writeStates(): void {
    for (const [name, body] of this.#heldStates) {
      this.#writer.saveState(name, body, this.#clock.nowMs());
      this.#heldStates.delete(name);
    }
  }

  #upkeep(): void {
    this.#writeStates();
    const nowMs = this.#clock.nowMs();
    if (nowMs - this.#prunedAtMs < MS_PER_DAY) return;
    const { readingsDays = READINGS_DAYS, forecastsDays } = this.#options;
    const pruned =
      pruneReadings(this.#db, readingsDays, nowMs) +
      (forecastsDays === undefined ? 0 : pruneForecasts(this.#db, nowMs - forecastsDays * MS_PER_DAY));
    if (pruned === 0) this.#prunedAtMs = nowMs;
  }
}

function lockFolder(folder: string): WriterLock {
  ensureFolder(folder);
  return takeWriterLock(join(folder, LOCK_FILE), join(folder, STORE_FILE));
}

function openChecked(folder: string, openFile: (folder: string) => Database, lock: WriterLock): Database {
  try {
    const db = openFile(folder);
    try {
      checkAtStart(db, join(folder, STORE_FILE));
    } catch (cause) {
      db.close();
      throw cause;
    }
    return db;
  } catch (cause) {
    lock.release();
    throw cause;
  }
}
