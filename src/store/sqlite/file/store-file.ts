import { accessSync, constants, existsSync, mkdirSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileTrouble } from '../../../host/disk/file-trouble.js';
import { isNoRoomToShare } from '../../../host/disk/small-database.js';
import { Database } from '../../../host/disk/sqlite.js';
import { StoreError } from '../../both/store-error.js';
import { APPLICATION_ID, checkIsOurs, checkIsUpToDate, migrate } from './schema.js';
import { toStoreError } from './sqlite-errors.js';

export const STORE_FILE = 'drybell.db';
export const LOCK_FILE = 'writer.lock';

/** 1 KB pages: a batch of readings touches one or two pages, and a page is what gets written. */
const PAGE_BYTES = 1024;

/** Pages in the log before they go to the main file; more means that a page written often goes there once. */
const CHECKPOINT_PAGES = 4000;

/** Negative: KiB. Holds the journal of a year, whose pages are read one by one; little for a board with 512 MB. */
const CACHE_KIB = -16_384;

/** Opens the store's file for writing, made and brought to the newest version if need be. */
export function openForWriting(folder: string): Database {
  const path = join(folder, STORE_FILE);
  try {
    return openFile(path, false);
  } catch (cause) {
    if (!isNoRoomToShare(cause)) throw toStoreError(`open store "${path}"`, cause);
  }
  try {
    return openFile(path, true);
  } catch (cause) {
    throw toStoreError(`open store "${path}"`, cause);
  }
}

/** @param isAlone nobody else may read it meanwhile, which a full disk has no room for; see `shareAgain` */
function openFile(path: string, isAlone: boolean): Database {
  let db: Database | undefined;
  try {
    db = new Database(path, { timeout: 5000 });
    if (isAlone) db.pragma('locking_mode = EXCLUSIVE');
    checkIsOurs(db, path);
    if (Number(db.pragma('application_id', { simple: true })) !== APPLICATION_ID) {
      db.pragma(`page_size = ${PAGE_BYTES}`);
      db.pragma(`application_id = ${APPLICATION_ID}`);
    }
    db.pragma('journal_mode = WAL');
    db.pragma('synchronous = FULL');
    db.pragma(`wal_autocheckpoint = ${CHECKPOINT_PAGES}`);
    db.pragma(`cache_size = ${CACHE_KIB}`);
    db.pragma('temp_store = MEMORY');
    migrate(db);
    return db;
  } catch (cause) {
    db?.close();
    throw cause;
  }
}

/** A file that was opened on a full disk is read by others again once there is room: SQLite lets go of it between two journals. */
export function shareAgain(db: Database): void {
  if (db.pragma('locking_mode', { simple: true }) !== 'exclusive') return;
  db.pragma('journal_mode = DELETE');
  db.pragma('locking_mode = NORMAL');
  db.prepare('SELECT count(*) FROM mark').get();
  db.pragma('journal_mode = WAL');
}

/** Opens the store's file for queries, beside a running monitor or without one. */
export function openForReading(folder: string): Database {
  const path = join(folder, STORE_FILE);
  if (!existsSync(path))
    throw new StoreError(
      'folder-missing',
      `Cannot open store "${path}": there is none. Start the monitor once, or give the folder that holds ${STORE_FILE}.`,
    );
  let db: Database | undefined;
  try {
    db = new Database(path, { readonly: true, timeout: 5000 });
    checkIsOurs(db, path);
    checkIsUpToDate(db, path);
    db.pragma(`cache_size = ${CACHE_KIB}`);
    return db;
  } catch (cause) {
    db?.close();
    throw toStoreError(`open store "${path}"`, cause);
  }
}

/** The folder is made when only its last part is missing, so that a mistyped path is not taken for a new farm. */
export function ensureFolder(folder: string): void {
  if (!existsSync(folder)) {
    if (!existsSync(dirname(join(folder))))
      throw new StoreError(
        'folder-missing',
        `Cannot open store in "${folder}": the folder "${dirname(join(folder))}" does not exist. Make it, or correct store.folder.`,
      );
    try {
      mkdirSync(folder);
    } catch (cause) {
      throw new StoreError(
        'read-only',
        `Cannot make the store's folder "${folder}": ${fileTrouble(cause)}. Give the service write permission there, or set another store.folder.`,
        { cause },
      );
    }
  }
  if (!statSync(folder).isDirectory())
    throw new StoreError(
      'folder-missing',
      `Cannot open store in "${folder}": it is a file, not a folder. Name a folder under store.folder.`,
    );
  try {
    accessSync(folder, constants.W_OK);
  } catch (cause) {
    throw new StoreError(
      'read-only',
      `Cannot open store in "${folder}": the folder is read-only. Give the service write permission.`,
      { cause },
    );
  }
}
