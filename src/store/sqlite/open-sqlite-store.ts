import { join } from 'node:path';
import type { Database } from 'better-sqlite3';
import type { Fact } from '../../monitor/facts.js';
import type { Clock, FactStore, ReviewQueries } from '../../monitor/ports.js';
import { isUrgent } from '../fact-index.js';
import { HeldFacts } from '../held-facts.js';
import { StoreError } from '../store-error.js';
import { BatchWriter } from './batch-writer.js';
import { checkAtStart } from './integrity.js';
import { Marks } from './marks.js';
import { pruneReadings } from './retention.js';
import { toStoreError } from './sqlite-errors.js';
import { SqliteReview } from './sqlite-review.js';
import { ensureFolder, LOCK_FILE, openForWriting, STORE_FILE } from './store-file.js';
import { takeWriterLock, type WriterLock } from './writer-lock.js';

export interface SqliteStoreOptions {
  readonly folder: string;
  readonly clock: Clock;
  /** Single readings older than this are deleted, roll-ups kept; 800 days when absent. */
  readonly readingsDays?: number | undefined;
  /** Readings that make a batch; 60 when absent. */
  readonly batchReadings?: number | undefined;
  /** Seconds after which a batch is written even if it is not full; 60 when absent. */
  readonly batchS?: number | undefined;
  /** Facts held in memory while the disk takes nothing; 100,000 when absent, about 30 MB. */
  readonly heldLimit?: number | undefined;
  /** How the file is opened; tests hand in a disk that fills up. */
  readonly openFile?: ((folder: string) => Database) | undefined;
}

const defaults = { readingsDays: 800, batchReadings: 60, batchS: 60, heldLimit: 100_000 };

/** How often writing is tried again while the disk takes nothing. */
const RETRY_MS = 5000;
/** Facts in one transaction while a backlog is written. */
const CHUNK_FACTS = 2000;
const MS_PER_DAY = 86_400_000;

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
  readonly #held: HeldFacts;
  readonly #clock: Clock;
  readonly #settings: typeof defaults;
  readonly #stop = new AbortController();
  readonly #ticking: Promise<void>;
  readonly #heldStates = new Map<string, string>();
  #oldestHeldAtMs = 0;
  #prunedAtMs = Number.NEGATIVE_INFINITY;
  #trouble: StoreError | undefined;
  #isClosed = false;

  constructor(options: SqliteStoreOptions) {
    const lock = lockFolder(options.folder);
    const db = openChecked(options.folder, options.openFile ?? openForWriting, lock);
    super(db);
    this.#lock = lock;
    this.#db = db;
    this.#clock = options.clock;
    this.#settings = {
      readingsDays: options.readingsDays ?? defaults.readingsDays,
      batchReadings: options.batchReadings ?? defaults.batchReadings,
      batchS: options.batchS ?? defaults.batchS,
      heldLimit: options.heldLimit ?? defaults.heldLimit,
    };
    this.#writer = new BatchWriter(db);
    this.#held = new HeldFacts(this.#settings.heldLimit);
    this.#ticking = this.#tick();
  }

  async keep(facts: readonly Fact[]): Promise<void> {
    this.#refuseWhenClosed('keep facts');
    if (this.#held.size === 0) this.#oldestHeldAtMs = this.#clock.monotonicMs();
    this.#held.add(facts);
    const isDue =
      this.#held.hasUrgent ||
      this.#held.size >= this.#settings.batchReadings ||
      this.#clock.monotonicMs() - this.#oldestHeldAtMs >= this.#settings.batchS * 1000;
    if (isDue) this.#write();
  }

  async flush(): Promise<void> {
    this.#refuseWhenClosed('flush');
    this.#write(true);
    if (this.#trouble !== undefined) throw this.#heldBack(this.#trouble);
  }

  async saveState(name: string, state: unknown): Promise<void> {
    this.#refuseWhenClosed(`save the state "${name}"`);
    this.#heldStates.set(name, JSON.stringify(state));
    if (this.#trouble === undefined) this.#attempt(() => this.#writeStates());
    else this.#write();
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

  health(): { readonly ok: boolean; readonly reason: string } {
    const dropped = this.#held.droppedCount;
    if (this.#trouble !== undefined)
      return {
        ok: false,
        reason: `${this.#held.size} facts wait in memory${dropped === 0 ? '' : `, ${dropped} readings were dropped`}: ${this.#trouble.message}`,
      };
    return { ok: true, reason: '' };
  }

  async close(): Promise<void> {
    if (this.#isClosed) return;
    this.#isClosed = true;
    this.#stop.abort();
    await this.#ticking;
    this.#write(true);
    try {
      if (this.#trouble === undefined) new Marks(this.#db).set('closed-cleanly', 1);
    } finally {
      this.#db.close();
      this.#lock.release();
    }
    if (this.#trouble !== undefined) throw this.#heldBack(this.#trouble);
  }

  /** Writes what is held, oldest first; on failure it stays held and `#trouble` says why. */
  #write(isSynced = false): void {
    this.#attempt(() => {
      do {
        const facts = this.#held.oldest(CHUNK_FACTS);
        const isLast = facts.length === this.#held.size;
        this.#writer.write(facts, this.#clock.nowMs(), facts.some(isUrgent) || (isSynced && isLast));
        this.#held.forgetOldest(facts.length);
      } while (this.#held.size > 0);
      this.#writeStates();
    });
  }

  #writeStates(): void {
    for (const [name, body] of this.#heldStates) {
      this.#writer.saveState(name, body, this.#clock.nowMs());
      this.#heldStates.delete(name);
    }
  }

  #attempt(work: () => void): void {
    try {
      work();
      this.#trouble = undefined;
    } catch (cause) {
      const problem = toStoreError('write to the store', cause);
      if (!(problem instanceof StoreError)) throw problem;
      this.#trouble = problem;
      this.#held.trim();
    }
  }

  #heldBack(trouble: StoreError): StoreError {
    return new StoreError('held-back', `${this.#held.size} facts wait in memory: ${trouble.message}`, {
      cause: trouble,
    });
  }

  #refuseWhenClosed(doing: string): void {
    if (this.#isClosed) throw new StoreError('closed', `Cannot ${doing}: the store is closed`);
  }

  /** Writes late batches, tries again after trouble, and once a day deletes what is too old. */
  async #tick(): Promise<void> {
    const { signal } = this.#stop;
    while (!signal.aborted) {
      const waitMs = this.#trouble === undefined ? this.#settings.batchS * 1000 : RETRY_MS;
      try {
        await this.#clock.sleep(waitMs, signal);
      } catch (cause) {
        if (signal.aborted) return;
        throw cause;
      }
      if (this.#held.size > 0 || this.#heldStates.size > 0) this.#write();
      if (this.#trouble === undefined) this.#pruneDaily();
    }
  }

  #pruneDaily(): void {
    const nowMs = this.#clock.nowMs();
    if (nowMs - this.#prunedAtMs < MS_PER_DAY) return;
    this.#attempt(() => {
      if (pruneReadings(this.#db, this.#settings.readingsDays, nowMs) === 0) this.#prunedAtMs = nowMs;
    });
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
