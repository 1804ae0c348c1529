import { closeSync, existsSync, fsyncSync, openSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { Database } from '../../../host/disk/sqlite.js';
import { StoreError } from '../../both/store-error.js';
import { toStoreError } from '../file/sqlite-errors.js';
import { openForReading } from '../file/store-file.js';
import { findDamage } from './integrity.js';

export interface BackupReport {
  readonly path: string;
  readonly bytes: number;
  readonly readingCount: number;
  readonly factCount: number;
}

/** Copied at once, some milliseconds' work (judgement); between two steps somebody may be told how far it is. */
const PAGES_AT_ONCE = 2048;
/** As the store itself: it holds the keys by which phones are called. */
const ITS_USERS_ALONE = 0o600;
/** Of the whole work, what the copy takes beside its check: about half each, by the clock (judgement). */
const COPY_SHARE = 0.5;

/**
 * Copies the store to `path` while the monitor goes on writing: SQLite's online backup of one consistent moment. The copy is
 * checked, synced and then given its name, so that a file of that name is always a whole backup. It is a single file, to be
 * put back as the store's own. `onProgress` is told how much is done, 0 to 1. Throws a StoreError; an existing file is never overwritten.
 */
export async function backUpStore(
  folder: string,
  path: string,
  onProgress: (share: number) => void = () => undefined,
): Promise<BackupReport> {
  if (existsSync(path))
    throw new StoreError(
      'backup-exists',
      `Cannot write the backup "${path}": there is a file of that name already, and it was left as it is. Give another name.`,
    );
  if (!existsSync(dirname(path)))
    throw new StoreError(
      'folder-missing',
      `Cannot write the backup "${path}": its folder does not exist. Make it first.`,
    );
  const unfinished = `${path}.part`;
  rmSync(unfinished, { force: true });
  writeFileSync(unfinished, '', { mode: ITS_USERS_ALONE });
  const source = openForReading(folder);
  try {
    // a moment that is held open: a writer does not make the copy begin again, nor does it wait for it
    source.exec('BEGIN');
    source.prepare('SELECT count(*) FROM sqlite_schema').get();
    await source.backup(unfinished, {
      pagesAtOnce: PAGES_AT_ONCE,
      progress: ({ totalPages, remainingPages }) => {
        onProgress((COPY_SHARE * (totalPages - remainingPages)) / Math.max(1, totalPages));
      },
    });
    source.exec('COMMIT');
    onProgress(COPY_SHARE);
    const report = checkCopy(unfinished);
    syncToDisk(unfinished);
    renameSync(unfinished, path);
    syncToDisk(dirname(path));
    return { path, ...report };
  } catch (cause) {
    rmSync(unfinished, { force: true });
    throw toStoreError(`write the backup "${path}"`, cause);
  } finally {
    source.close();
  }
}

/** Throws a StoreError `corrupt` when a copy is not sound. */
export function checkCopy(path: string): Omit<BackupReport, 'path'> {
  const copy = new Database(path);
  try {
    copy.pragma('journal_mode = DELETE');
    const [problem] = findDamage(copy, true);
    if (problem !== undefined)
      throw new StoreError(
        'corrupt',
        `The store is damaged, and so is its backup (${problem}). Run "drybell store-check".`,
      );
    const count = (table: string) => Number(copy.prepare(`SELECT count(*) FROM ${table}`).pluck().get());
    const bytes =
      Number(copy.pragma('page_count', { simple: true })) *
      Number(copy.pragma('page_size', { simple: true }));
    return { bytes, readingCount: count('reading'), factCount: count('fact') };
  } finally {
    copy.close();
  }
}

/** A file or folder, to the disk. */
export function syncToDisk(path: string): void {
  const file = openSync(path, 'r');
  try {
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
}
