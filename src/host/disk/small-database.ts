import { type CarriedTable, carryRows } from './carry-rows.js';
import { isWritable } from './is-writable.js';
import { setAside } from './set-aside.js';
import { Database, SqliteError } from './sqlite.js';

/** An SQLite file of a few megabytes that is only ours, and is rather begun anew than kept from being opened. */
export interface SmallDatabase {
  /** What people call it, for a sentence: "the outbox". */
  readonly name: string;
  /** Written into the file's head (SQLite's application_id). */
  readonly applicationId: number;
  /** Schema changes in order; the position is the version (user_version 1 is the first). One that was released is never edited. */
  readonly changes: readonly string[];
  /** The version of a file from before versions were written, by the tables it has. */
  readonly unmarkedVersion: (tables: ReadonlySet<string>) => number;
  readonly pageBytes?: number;
  /** Others look into it while it is open here; absent: nobody does, and it is ours alone. */
  readonly isShared?: boolean;
  /** By table, what holds of every row that can be read; absent: all can. */
  readonly readable?: Readonly<Record<string, string>>;
  /** What is carried over when the file must be begun anew. */
  readonly carried: readonly CarriedTable[];
}

export interface OpenedDatabase {
  readonly database: Database;
  /** What was found amiss and what became of it; one sentence. */
  readonly trouble?: string | undefined;
}

/** The file can't be what it should be; it is set aside. */
class NotUsable extends Error {}

/** How long another process may hold the file: a check beside a running monitor takes less. */
const BUSY_MS = 1000;

/** SQLITE_ERROR: a head or table that makes no sense; what is asked here is right for every file of ours. */
const DAMAGE = /^SQLITE_(CORRUPT|NOTADB|ERROR)/;

function damageOf(cause: unknown, path: string): string | undefined {
  if (cause instanceof NotUsable) return cause.message;
  if (!(cause instanceof SqliteError)) return undefined;
  const saysReadOnly = cause.code === 'SQLITE_READONLY' && isWritable(path);
  return DAMAGE.test(cause.code) || saysReadOnly ? `is damaged (${cause.message})` : undefined;
}

function tablesOf(database: Database): ReadonlySet<string> {
  return new Set(database.prepare<unknown[], string>('SELECT name FROM sqlite_schema').pluck().all());
}

/** The version that the file is of; 0 when it is new. */
function versionOf(database: Database, kind: SmallDatabase): number {
  const written = Number(database.pragma('user_version', { simple: true }));
  const applicationId = Number(database.pragma('application_id', { simple: true }));
  if (applicationId !== 0 && applicationId !== kind.applicationId)
    throw new NotUsable("is another program's database");
  if (written > kind.changes.length)
    throw new NotUsable(`is of version ${written}, and this program knows up to ${kind.changes.length}`);
  if (written > 0) return written;
  const tables = tablesOf(database);
  const unmarked = tables.size === 0 ? 0 : kind.unmarkedVersion(tables);
  if (unmarked === 0 && tables.size > 0) throw new NotUsable("is another program's database");
  return unmarked;
}

function prepare(database: Database, kind: SmallDatabase, isAlone: boolean): void {
  if (isAlone) database.pragma('locking_mode = EXCLUSIVE');
  const version = versionOf(database, kind);
  if (version === 0 && kind.pageBytes !== undefined) database.pragma(`page_size = ${kind.pageBytes}`);
  database.pragma('journal_mode = WAL');
  const [problem] = Object.values(Object(database.pragma('quick_check(1)'))[0] as object);
  if (problem !== 'ok') throw new NotUsable(`is damaged (${String(problem)})`);
  migrate(database, kind, version);
  const unreadable = unreadableRows(database, kind, 'SELECT count(*)');
  if (unreadable > 0) throw new NotUsable(`holds ${unreadable} entries of which bytes were changed`);
}

function migrate(database: Database, kind: SmallDatabase, version: number): void {
  kind.changes.slice(version).forEach((change, index) => {
    database.transaction(() => {
      database.exec(change);
      database.pragma(`application_id = ${kind.applicationId}`);
      database.pragma(`user_version = ${version + index + 1}`);
    })();
  });
}

/** Counts rows that can't be read, or takes them out. */
function unreadableRows(database: Database, kind: SmallDatabase, what: 'SELECT count(*)' | 'DELETE'): number {
  const counts = Object.entries(kind.readable ?? {}).map(([table, condition]) => {
    const statement = database.prepare<unknown[], number>(`${what} FROM ${table} WHERE NOT (${condition})`);
    return what === 'DELETE' ? statement.run().changes : (statement.pluck().get() ?? 0);
  });
  return counts.reduce((sum, count) => sum + count, 0);
}

function openAs(path: string, kind: SmallDatabase, isAlone: boolean): Database {
  const database = new Database(path, { timeout: BUSY_MS });
  try {
    prepare(database, kind, isAlone);
    return database;
  } catch (cause) {
    database.close();
    throw cause;
  }
}

/** A full disk has no room for the memory that SQLite shares with other readers: then the file is ours alone. */
export function isNoRoomToShare(cause: unknown): boolean {
  return cause instanceof SqliteError && cause.code.startsWith('SQLITE_IOERR_SHM');
}

function open(path: string, kind: SmallDatabase): Database {
  if (kind.isShared !== true) return openAs(path, kind, true);
  try {
    return openAs(path, kind, false);
  } catch (cause) {
    if (!isNoRoomToShare(cause)) throw cause;
    return openAs(path, kind, true);
  }
}

/**
 * Opens the file, made or brought to the newest version if need be. One that can't be read, is of a version to come or another
 * program's is set aside under a dated name, and a new one takes over what rows of it can be read. It opens on a full disk too, when
 * it was there before. Throws SQLite's own error for what waiting may mend.
 */
export function openSmallDatabase(path: string, kind: SmallDatabase, nowMs: number): OpenedDatabase {
  try {
    return { database: open(path, kind) };
  } catch (cause) {
    const damage = damageOf(cause, path);
    if (damage === undefined) throw cause;
    const aside = setAside(path, nowMs);
    const database = open(path, kind);
    const carried = [...carryRows(aside, database, kind.carried).values()];
    const rows = carried.reduce((sum, count) => sum + count, 0) - unreadableRows(database, kind, 'DELETE');
    const trouble = `${kind.name} ${damage}; it was set aside as "${aside}" and begun anew; ${rows} entries of it could be read and were taken over.`;
    return { database, trouble };
  }
}
