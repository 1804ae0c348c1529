import { existsSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { asideIn } from '../host/disk/set-aside.js';
import { type Quarantined, SPOOL_FILE, Spool } from './influx/spool.js';
import { toStoreError } from './sqlite/file/sqlite-errors.js';
import { openForReading, STORE_FILE } from './sqlite/file/store-file.js';
import { unreadableCount } from './sqlite/tables/fact-table.js';
import { asideNames } from './sqlite/tables/state-table.js';
import { findDamage } from './sqlite/upkeep/integrity.js';

export interface StoreReport {
  readonly path: string;
  readonly bytes: number;
  /** What SQLite's full integrity check found; empty when the file is sound. */
  readonly damage: readonly string[];
  readonly readingCount: number;
  readonly factCount: number;
  /** Files that could not be read when Drybell started, under their dated names; oldest first. */
  readonly aside: readonly string[];
  /** States that could not be read, under their dated names in the store. */
  readonly asideStates: readonly string[];
  /** Journal entries that can't be read and are left out. */
  readonly unreadableCount: number;
  /** Absent when nothing was ever spooled for InfluxDB. */
  readonly spool?: {
    readonly waitingCount: number;
    readonly quarantined: readonly Quarantined[];
    readonly releasedCount: number;
  };
}

const MOST_QUARANTINED = 1000;

/**
 * Looks a store over, beside a running monitor or without one. With `isReleasing` what InfluxDB refused goes back into the
 * spool, to be sent once more. Throws a StoreError when the file can't be opened.
 */
export function checkStore(folder: string, isReleasing: boolean, nowMs: number): StoreReport {
  const path = join(folder, STORE_FILE);
  const db = openForReading(folder);
  try {
    const damage = findDamage(db, true);
    const count = (table: string) =>
      damage.length > 0 ? 0 : Number(db.prepare(`SELECT count(*) FROM ${table}`).pluck().get());
    const spool = checkSpool(folder, isReleasing, nowMs);
    return {
      path,
      bytes: statSync(path).size,
      damage,
      readingCount: count('reading'),
      factCount: count('fact'),
      aside: asideIn(folder),
      asideStates: damage.length > 0 ? [] : asideNames(db),
      unreadableCount: damage.length > 0 ? 0 : unreadableCount(db),
      ...(spool === undefined ? {} : { spool }),
    };
  } catch (cause) {
    throw toStoreError(`check store "${path}"`, cause);
  } finally {
    db.close();
  }
}

function checkSpool(folder: string, isReleasing: boolean, nowMs: number): StoreReport['spool'] {
  if (!existsSync(join(folder, SPOOL_FILE))) return undefined;
  const spool = new Spool(folder, nowMs);
  try {
    const quarantined = spool.quarantined(MOST_QUARANTINED);
    const releasedCount = isReleasing ? spool.releaseQuarantined() : 0;
    return { waitingCount: spool.waitingCount, quarantined, releasedCount };
  } finally {
    spool.close();
  }
}
