import { existsSync, rmSync } from 'node:fs';
import { Database, SqliteError } from '../../../host/disk/sqlite.js';
import { StoreError } from '../../both/store-error.js';
import { toStoreError } from './sqlite-errors.js';

export interface WriterLock {
  release(): void;
}

/** Who only looks whether the lock is held holds it for less than this. */
const LOOK_MS = 200;

function hold(path: string): Database {
  const db = new Database(path, { timeout: LOOK_MS });
  try {
    db.pragma('journal_mode = MEMORY');
    db.exec('BEGIN EXCLUSIVE');
    return db;
  } catch (cause) {
    db.close();
    if (!(cause instanceof SqliteError && cause.code === 'SQLITE_NOTADB')) throw cause;
    // Nothing is ever written into it, and nobody can hold what is no database.
    rmSync(path);
    return hold(path);
  }
}

/**
 * One writer to a store. SQLite's own exclusive lock on a small file beside the store: the operating system lets it go when
 * the process dies, however it dies, and readers of the store never notice it. Throws a StoreError `in-use`.
 */
export function takeWriterLock(path: string, storePath: string): WriterLock {
  let held: Database;
  try {
    held = hold(path);
  } catch (cause) {
    const problem = toStoreError(`take the lock "${path}"`, cause);
    if (problem instanceof StoreError && problem.code === 'in-use')
      throw new StoreError(
        'in-use',
        `Cannot open store "${storePath}": another Drybell is writing to it. Stop that one, or give this one another store.folder.`,
        { retryable: true, cause },
      );
    throw problem;
  }
  return {
    release: () => {
      held.exec('ROLLBACK');
      held.close();
    },
  };
}

/** Does a process that lives write to the store whose lock this is? Throws SQLite's own error for a lock that can't be looked at. */
export function isWriterAlive(path: string): boolean {
  if (!existsSync(path)) return false;
  const db = new Database(path, { readonly: true, timeout: 0 });
  try {
    db.prepare('SELECT count(*) FROM sqlite_schema').get();
    return false;
  } catch (cause) {
    if (cause instanceof SqliteError && cause.code.startsWith('SQLITE_BUSY')) return true;
    throw cause;
  } finally {
    db.close();
  }
}
