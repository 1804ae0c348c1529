import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { MS_PER_DAY, MS_PER_MIN } from '../../../shared/base/time-units.js';
import type { Database } from '../../host/disk/sqlite.js';
import type { Fact } from '../../monitor/ports/facts.js';
import type { Clock, FactStore, ReviewQueries, States } from '../../monitor/ports/ports.js';
import { Batching, type BatchSettings, type Health } from '../both/batching.js';
import { BatchWriter } from './batch-writer.js';
import { toStoreError } from './file/sqlite-errors.js';
import { ensureFolder, LOCK_FILE, openForWriting, STORE_FILE, shareAgain } from './file/store-file.js';
import { takeWriterLock, type WriterLock } from './file/writer-lock.js';
import { SqliteReview } from './sqlite-review.js';
import { Marks } from './tables/marks.js';
import { readDocumentBody } from './tables/state-table.js';
import { noteKeptUntil } from './upkeep/kept-until.js';
import { pruneBeforeMs, pruneForecasts, pruneReadings } from './upkeep/retention.js';
import { openUsableStore, type UsableStore } from './upkeep/usable-store.js';

export interface SqliteStoreOptions extends BatchSettings {
  readonly folder: string;
  readonly clock: Clock;
  /** Single readings older than this are deleted, roll-ups kept; 800 days when absent. */
  readonly readingsDays?: number | undefined;
  /** Forecasts older than this are deleted; kept for ever when absent. */
  readonly forecastsDays?: number | undefined;
  /**
   * What to do with a file that is damaged or of a newer version: `refuse` (when absent) throws `corrupt` or `newer-version`;
   * `set-aside` renames it and begins a new one with what can still be read. `troubles` says so, and `health` in this run while
   * the file lies there.
   */
  readonly onDamage?: 'refuse' | 'set-aside' | undefined;
  /** How the file is opened; tests hand in a disk that fills up. */
  readonly openFile?: ((folder: string) => Database) | undefined;
}

const READINGS_DAYS = 800;
/** How often it is noted beside the store up to when it was kept; a loss within is not noticed. */
const NOTE_MS = 15 * MS_PER_MIN;

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
  readonly #marks: Marks;
  /** What was set aside at this start. */
  readonly #aside: string | undefined;
  readonly #troubles: readonly string[];
  readonly #heldStates = new Map<string, string>();
  #notedAtMs = Number.NEGATIVE_INFINITY;
  #prunedAtMs = Number.NEGATIVE_INFINITY;
  /** Today's deletion, while it is under way. */
  #pruneBeforeMs: number | undefined;

  constructor(options: SqliteStoreOptions) {
    const lock = lockFolder(options.folder);
    const { db, aside, troubles } = openUsable(options, lock);
    super(db);
    this.#aside = aside;
    this.#troubles = troubles;
    this.#marks = new Marks(db);
    this.#lock = lock;
    this.#db = db;
    this.#clock = options.clock;
    this.#options = options;
    this.#writer = new BatchWriter(db);
    this.#batching = new Batching(
      options.clock,
      {
        write: (facts, isUrgent, isLast) => this.#write(facts, isUrgent, isLast),
        upkeep: () => this.#upkeep(),
        judge: (cause) => toStoreError('write to the store', cause),
      },
      options,
    );
  }

  async keep(facts: readonly Fact[], states: States = {}): Promise<boolean> {
    this.#batching.refuseWhenClosed('keep facts');
    const entries = Object.entries(states);
    for (const [name, state] of entries) this.#heldStates.set(name, JSON.stringify(state));
    this.#batching.keep(facts, entries.length > 0);
    return this.#batching.trouble === undefined;
  }

  /** States go with the last of the facts that wait before them. */
  #write(facts: readonly Fact[], isUrgent: boolean, isLast: boolean): void {
    const states = isLast ? new Map(this.#heldStates) : new Map<string, string>();
    this.#writer.write(facts, this.#clock.nowMs(), isUrgent, states);
    for (const [name, body] of states) if (this.#heldStates.get(name) === body) this.#heldStates.delete(name);
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
    return readDocumentBody(this.#db, name);
  }

  async setStateAside(name: string): Promise<string> {
    this.#batching.refuseWhenClosed(`set the state "${name}" aside`);
    return this.#writer.setStateAside(name, this.#clock.nowMs());
  }

  health(): Health {
    const health = this.#batching.health();
    if (!health.ok || this.#aside === undefined || !existsSync(this.#aside)) return health;
    return { ok: false, reason: 'damaged', own: ['asItIs', this.#troubles[0] ?? ''] };
  }

  troubles(): readonly string[] {
    return this.#troubles;
  }

  async close(): Promise<void> {
    await this.#batching.close(() => {
      try {
        if (this.#batching.trouble === undefined) {
          noteKeptUntil(this.#options.folder, this.#marks, this.#clock.nowMs());
          this.#marks.set('closed-cleanly', 1);
        }
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
    shareAgain(this.#db);
    const nowMs = this.#clock.nowMs();
    if (Math.abs(nowMs - this.#notedAtMs) >= NOTE_MS) {
      this.#notedAtMs = nowMs;
      this.#writer.synced(() => noteKeptUntil(this.#options.folder, this.#marks, nowMs));
    }
    if (nowMs - this.#prunedAtMs < MS_PER_DAY) return;
    const { readingsDays = READINGS_DAYS, forecastsDays } = this.#options;
    this.#pruneBeforeMs ??= pruneBeforeMs(this.#db, readingsDays, nowMs) ?? Number.NEGATIVE_INFINITY;
    const pruned =
      (Number.isFinite(this.#pruneBeforeMs) ? pruneReadings(this.#db, this.#pruneBeforeMs) : 0) +
      (forecastsDays === undefined ? 0 : pruneForecasts(this.#db, nowMs - forecastsDays * MS_PER_DAY));
    if (pruned > 0) return;
    this.#prunedAtMs = nowMs;
    this.#pruneBeforeMs = undefined;
  }
}

function lockFolder(folder: string): WriterLock {
  ensureFolder(folder);
  return takeWriterLock(join(folder, LOCK_FILE), join(folder, STORE_FILE));
}

function openUsable(options: SqliteStoreOptions, lock: WriterLock): UsableStore {
  const { folder, clock, onDamage, openFile = openForWriting } = options;
  try {
    return openUsableStore({
      folder,
      nowMs: clock.nowMs(),
      mayBeginAnew: onDamage === 'set-aside',
      openFile,
    });
  } catch (cause) {
    lock.release();
    throw cause;
  }
}
