import type { Database } from 'better-sqlite3';
import { StoreError } from '../store-error.js';
import { Marks } from './marks.js';
import { toStoreError } from './sqlite-errors.js';

/** Problems found in the file, none when it is sound. `isThorough` also compares indexes with their tables. */
export function findDamage(db: Database, isThorough: boolean): readonly string[] {
  const found = db.pragma(isThorough ? 'integrity_check(20)' : 'quick_check(20)', { simple: false });
  const lines = Array.isArray(found) ? found.flatMap((row) => Object.values(Object(row)).map(String)) : [];
  return lines.filter((line) => line !== 'ok');
}

/**
 * Checks the file when the last run did not end by closing it, then marks it as in use. Throws a StoreError `corrupt`
 * that names the first problem.
 */
export function checkAtStart(db: Database, path: string): void {
  try {
    const marks = new Marks(db);
    const wasClosed = marks.get('closed-cleanly') !== 0;
    const [problem] = wasClosed ? [] : findDamage(db, false);
    if (problem !== undefined)
      throw new StoreError(
        'corrupt',
        `Cannot open store "${path}": it is damaged (${problem}). Run "drybell store-check" and restore the last backup.`,
      );
    marks.set('closed-cleanly', 0);
  } catch (cause) {
    throw toStoreError(`open store "${path}"`, cause);
  }
}
