import { constants, copyFileSync, existsSync, mkdirSync, renameSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { setAside } from '../../../host/disk/set-aside.js';
import { Database } from '../../../host/disk/sqlite.js';
import { StoreError } from '../../both/store-error.js';
import { checkIsOurs } from '../file/schema.js';
import { toStoreError } from '../file/sqlite-errors.js';
import { LOCK_FILE, STORE_FILE } from '../file/store-file.js';
import { takeWriterLock } from '../file/writer-lock.js';
import { type BackupReport, checkCopy, syncToDisk } from './backup.js';

export interface RestoreReport extends BackupReport {
  /** Where the store that stood there before lies now; absent: there was none. */
  readonly aside?: string | undefined;
}

/** Of the whole work, what copying takes beside the check of the copy (judgement: the check reads every row). */
const COPY_SHARE = 0.2;

/**
 * Puts a backup in the store's place, whole or not at all: copied beside it, checked, synced, then renamed. A store that is there is
 * set aside under a dated name when `replace` says so; nothing is ever deleted. Throws a StoreError: while a monitor writes there, for a
 * file that is no backup, and for a store that is there and may not be replaced.
 */
export function restoreStore(
  backup: string,
  folder: string,
  options: {
    readonly replace: boolean;
    readonly nowMs: number;
    /** Told how much is done, 0 to 1. */
    readonly onProgress?: (share: number) => void;
  },
): RestoreReport {
  if (!existsSync(backup))
    throw new StoreError(
      'no-backup',
      `Cannot restore "${backup}": there is no such file. Give the path of a file that "drybell backup" wrote.`,
    );
  const path = join(folder, STORE_FILE);
  if (existsSync(path) && !options.replace)
    throw new StoreError(
      'store-exists',
      `Cannot restore into "${folder}": a store is there already, and nothing was changed. With --force it is set aside under a dated name.`,
    );
  mkdirSync(folder, { recursive: true });
  const lock = takeWriterLock(join(folder, LOCK_FILE), path);
  const unfinished = `${path}.part`;
  try {
    rmSync(unfinished, { force: true });
    copyFileSync(backup, unfinished, constants.COPYFILE_EXCL);
    checkIsBackup(unfinished, backup);
    options.onProgress?.(COPY_SHARE);
    const report = checkCopy(unfinished);
    options.onProgress?.(1);
    syncToDisk(unfinished);
    const aside = existsSync(path) ? setAside(path, options.nowMs, 'replaced') : undefined;
    // what SQLite kept beside a store that is gone would be taken for this one's
    for (const end of ['-wal', '-shm']) rmSync(path + end, { force: true });
    renameSync(unfinished, path);
    syncToDisk(dirname(path));
    return { path, ...report, aside };
  } catch (cause) {
    rmSync(unfinished, { force: true });
    throw toStoreError(`restore "${backup}"`, cause);
  } finally {
    lock.release();
  }
}

function checkIsBackup(copy: string, named: string): void {
  const db = new Database(copy, { readonly: true, fileMustExist: true });
  try {
    checkIsOurs(db, named);
    if (db.prepare("SELECT 1 FROM sqlite_schema WHERE name = 'fact'").get() === undefined)
      throw new StoreError(
        'not-a-store',
        `"${named}" is no backup of a Drybell store: expected a file that "drybell backup" wrote.`,
      );
  } finally {
    db.close();
  }
}
