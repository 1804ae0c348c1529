import { existsSync, readdirSync, renameSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { STORE_FILE } from './store-file.js';

const DAMAGED_MARK = '.damaged-';

/** What could be carried over from a damaged store. */
export interface Salvage {
  readonly stateCount: number;
  readonly factCount: number;
}

/** Renames a damaged store, so that a new one can take its place. Returns its new path; nothing in it is changed. */
export function setAside(folder: string, nowMs: number): string {
  const path = join(folder, STORE_FILE);
  const aside = `${path}${DAMAGED_MARK}${new Date(nowMs).toISOString().replaceAll(/[:.]/g, '-')}`;
  for (const end of ['', '-wal', '-shm']) if (existsSync(path + end)) renameSync(path + end, aside + end);
  return aside;
}

/** Damaged stores that were set aside and still lie in the folder. */
export function damagedStores(folder: string): readonly string[] {
  return readdirSync(folder)
    .filter((name) => name.startsWith(STORE_FILE + DAMAGED_MARK) && !/-(wal|shm)$/.test(name))
    .map((name) => join(folder, name));
}

/**
 * Carries states and journal over from a damaged store as far as they can be read: what the trays are must not be lost with a
 * page of readings. Readings stay in the damaged file.
 */
export function salvage(into: Database.Database, damagedPath: string): Salvage {
  let damaged: Database.Database | undefined;
  try {
    damaged = new Database(damagedPath, { readonly: true });
    const from = damaged;
    return into.transaction(() => ({
      stateCount: carry(from, into, 'state', ['name', 'saved_at_ms', 'body']),
      factCount: carry(from, into, 'fact', ['id', 'at_ms', 'kind', 'tray_id', 'body', 'struck_out', 'curve']),
    }))();
  } catch (cause) {
    if (cause instanceof Database.SqliteError) return { stateCount: 0, factCount: 0 };
    throw cause;
  } finally {
    damaged?.close();
  }
}

/** What a table has; a store of an older version lacks the newer columns. */
function columnsOf(db: Database.Database, table: string): ReadonlySet<string> {
  const names = db.prepare<unknown[], string>('SELECT name FROM pragma_table_info(?)').pluck().all(table);
  return new Set(names);
}

/** Copies rows until the first that can't be read, then backwards from the end, so that one bad page costs little. */
function carry(
  from: Database.Database,
  into: Database.Database,
  table: string,
  wanted: readonly string[],
): number {
  const known = columnsOf(from, table);
  const columns = wanted.filter((column) => known.has(column));
  const put = into.prepare(
    `INSERT OR IGNORE INTO ${table} (${columns.join(', ')}) VALUES (${columns.map(() => '?').join(', ')})`,
  );
  return ['ASC', 'DESC'].reduce((count, direction) => {
    let carried = count;
    try {
      const rows = from
        .prepare<unknown[], unknown[]>(
          `SELECT ${columns.join(', ')} FROM ${table} NOT INDEXED ORDER BY rowid ${direction}`,
        )
        .raw()
        .iterate();
      for (const row of rows) carried += put.run(...row).changes;
    } catch (cause) {
      if (!(cause instanceof Database.SqliteError)) throw cause;
    }
    return carried;
  }, 0);
}
