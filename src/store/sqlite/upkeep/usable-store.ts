import { join } from 'node:path';
import { setAside } from '../../../host/disk/set-aside.js';
import type { Database } from '../../../host/disk/sqlite.js';
import { StoreError } from '../../both/store-error.js';
import { unlessDiskIsFull } from '../file/sqlite-errors.js';
import { STORE_FILE } from '../file/store-file.js';
import { setUnreadableApart } from '../tables/fact-table.js';
import { Marks } from '../tables/marks.js';
import { carryStore } from './begin-anew.js';
import { checkAtStart } from './integrity.js';
import { isEmptied, missingSince } from './kept-until.js';

export interface UsableStore {
  readonly db: Database;
  /** Where a file that could not be used lies now. */
  readonly aside: string | undefined;
  /** What was found amiss and what became of it, a sentence each. */
  readonly troubles: readonly string[];
}

export interface StoreOpening {
  readonly folder: string;
  readonly nowMs: number;
  /** A file that is damaged or of a newer version is set aside, and a new one begun; false: it is refused. */
  readonly mayBeginAnew: boolean;
  readonly openFile: (folder: string) => Database;
}

function openChecked({ folder, openFile }: StoreOpening): Database {
  const db = openFile(folder);
  try {
    checkAtStart(db, join(folder, STORE_FILE));
    return db;
  } catch (cause) {
    db.close();
    throw cause;
  }
}

function openOrBeginAnew(opening: StoreOpening): UsableStore {
  try {
    return { db: openChecked(opening), aside: undefined, troubles: [] };
  } catch (cause) {
    const isUnusable = cause instanceof StoreError && ['corrupt', 'newer-version'].includes(cause.code);
    if (!isUnusable || !opening.mayBeginAnew) throw cause;
    const { folder, nowMs } = opening;
    const path = join(folder, STORE_FILE);
    const aside = setAside(path, nowMs);
    const db = openChecked(opening);
    const why =
      cause.code === 'corrupt'
        ? `The store "${path}" is damaged.`
        : `The store "${path}" was written by a newer Drybell.`;
    return { db, aside, troubles: [carryStore(db, aside, why)] };
  }
}

/** Opens the store's file so that it can be worked with, and says what of it is not as it was left. Throws a StoreError. */
export function openUsableStore(opening: StoreOpening): UsableStore {
  const { folder, nowMs } = opening;
  const emptied = isEmptied(folder) ? setAside(join(folder, STORE_FILE), nowMs) : undefined;
  const opened = openOrBeginAnew(opening);
  const missing = opened.aside === undefined ? missingSince(folder, new Marks(opened.db)) : undefined;
  const unreadable = unlessDiskIsFull(() => setUnreadableApart(opened.db)) ?? 0;
  const apart = `${unreadable} entries of the journal can't be read: bytes of them were changed on the disk. They stay in the store and are left out.`;
  return {
    db: opened.db,
    aside: opened.aside ?? emptied,
    troubles: [
      ...opened.troubles,
      ...(missing === undefined ? [] : [missing]),
      ...(unreadable > 0 ? [apart] : []),
    ],
  };
}
