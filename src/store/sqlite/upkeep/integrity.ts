import { isWritable } from '../../../host/disk/is-writable.js';
import type { Database } from '../../../host/disk/sqlite.js';
import { StoreError } from '../../both/store-error.js';
import { toStoreError, unlessDiskIsFull } from '../file/sqlite-errors.js';
import { Marks } from '../tables/marks.js';

/** Problems found in the file, none when it is sound. `isThorough` also compares indexes with their tables. */
export function findDamage(db: Database, isThorough: boolean): readonly string[] {
  const found = db.pragma(isThorough ? 'integrity_check(20)' : 'quick_check(20)', { simple: false });
  const lines = Array.isArray(found) ? found.flatMap((row) => Object.values(Object(row)).map(String)) : [];
  return lines.filter((line) => line !== 'ok');
}

/** Up to this size a file is checked at every start; 0.2 s on a small board (judgement), and damage is found while nothing runs. */
const CHECKED_AT_MOST_BYTES = 16_000_000;

function bytesOf(db: Database): number {
  return Number(db.pragma('page_count', { simple: true })) * Number(db.pragma('page_size', { simple: true }));
}

/** A head that says "for newer programs to write" reads like a file that may not be written. */
function saysReadOnly(cause: unknown): boolean {
  const problem = toStoreError('open the store', cause);
  return problem instanceof StoreError && problem.code === 'read-only';
}

/**
 * Checks the file when the last run did not end by closing it, or when that is quickly done; then marks it as in use, where the disk
 * takes that. Throws a StoreError `corrupt` that names the first problem.
 */
export function checkAtStart(db: Database, path: string): void {
  try {
    const marks = new Marks(db);
    const isTrusted = marks.get('closed-cleanly') !== 0 && bytesOf(db) > CHECKED_AT_MOST_BYTES;
    const [problem] = isTrusted ? [] : findDamage(db, false);
    if (problem !== undefined)
      throw new StoreError(
        'corrupt',
        `Cannot open store "${path}": it is damaged (${problem}). Run "drybell store-check" and restore the last backup.`,
      );
    unlessDiskIsFull(() => marks.set('closed-cleanly', 0));
  } catch (cause) {
    if (saysReadOnly(cause) && isWritable(path))
      throw new StoreError(
        'corrupt',
        `Cannot open store "${path}": its head is damaged. Restore the last backup ("drybell restore --help").`,
        { cause },
      );
    throw toStoreError(`open store "${path}"`, cause);
  }
}
