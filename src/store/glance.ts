import { existsSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { asideIn } from '../host/disk/set-aside.js';
import type { ReviewQueries } from '../monitor/ports/ports.js';
import { StoreError } from './both/store-error.js';
import { toStoreError } from './sqlite/file/sqlite-errors.js';
import { LOCK_FILE, openForReading, STORE_FILE } from './sqlite/file/store-file.js';
import { isWriterAlive } from './sqlite/file/writer-lock.js';
import { SqliteReview } from './sqlite/sqlite-review.js';
import { asideNames } from './sqlite/tables/state-table.js';

/** A store as it lies there, without going through what is in it. */
export interface StoreGlance<T> {
  /** A monitor that lives writes to it. */
  readonly isWritten: boolean;
  /** What could not be read and was set aside: files, then states by their dated names in the store. */
  readonly aside: readonly string[];
  /** Undefined: nothing was ever kept here. */
  readonly bytes?: number;
  /** What was asked; undefined where nothing was ever kept. */
  readonly asked?: T;
  /** Why it can't be looked into, and what to do. */
  readonly trouble?: string;
}

function isWritten(folder: string): boolean {
  const path = join(folder, LOCK_FILE);
  try {
    return isWriterAlive(path);
  } catch (cause) {
    throw toStoreError(`look at the lock "${path}"`, cause);
  }
}

/** Looks at the store in a folder, beside a running monitor or without one, and puts questions to it where something was kept. */
export async function glanceAtStore<T>(
  folder: string,
  ask: (queries: ReviewQueries) => Promise<T>,
): Promise<StoreGlance<T>> {
  const path = join(folder, STORE_FILE);
  if (!existsSync(folder)) return { isWritten: false, aside: [] };
  const aside = asideIn(folder);
  try {
    const written = isWritten(folder);
    if (!existsSync(path)) return { isWritten: written, aside };
    const db = openForReading(folder);
    try {
      const asked = await ask(new SqliteReview(db));
      return { isWritten: written, aside: [...aside, ...asideNames(db)], bytes: statSync(path).size, asked };
    } catch (cause) {
      throw toStoreError(`look into store "${path}"`, cause);
    } finally {
      db.close();
    }
  } catch (cause) {
    if (!(cause instanceof StoreError)) throw cause;
    return { isWritten: cause.code === 'in-use', aside, trouble: cause.message };
  }
}
