import { type Database, SqliteError } from '../../../host/disk/sqlite.js';
import { StoreError } from '../../both/store-error.js';

/**
 * Schema changes in order; the position is the version (user_version 1 is the first). A change that has been released is
 * never edited: add another. Numbers carry their units in their names; `_steps` are whole steps of kept-precision.ts, kept
 * as integers where they fit and as reals where not, told apart by their storage class, hence columns without a type.
 */
const changes: readonly string[] = [
  `CREATE TABLE probe_series (
     id INTEGER PRIMARY KEY, probe_id TEXT NOT NULL, raw_unit TEXT NOT NULL, UNIQUE (probe_id, raw_unit));
   CREATE TABLE remark (
     id INTEGER PRIMARY KEY, flag INTEGER NOT NULL, flag_reasons TEXT NOT NULL, calibration_id TEXT NOT NULL,
     UNIQUE (flag, flag_reasons, calibration_id));
   CREATE TABLE reading (
     observed_at_ms INTEGER NOT NULL, series_id INTEGER NOT NULL, raw_steps, water_content_steps,
     remark_id INTEGER NOT NULL, PRIMARY KEY (observed_at_ms, series_id)) WITHOUT ROWID;
   CREATE TABLE roll_up_10min (
     series_id INTEGER NOT NULL, step INTEGER NOT NULL, basis INTEGER NOT NULL, value_count INTEGER NOT NULL,
     reading_count INTEGER NOT NULL, flagged_count INTEGER NOT NULL, min_value REAL NOT NULL, mean_value REAL NOT NULL,
     max_value REAL NOT NULL, PRIMARY KEY (series_id, step)) WITHOUT ROWID;
   CREATE TABLE roll_up_hour (
     series_id INTEGER NOT NULL, step INTEGER NOT NULL, basis INTEGER NOT NULL, value_count INTEGER NOT NULL,
     reading_count INTEGER NOT NULL, flagged_count INTEGER NOT NULL, min_value REAL NOT NULL, mean_value REAL NOT NULL,
     max_value REAL NOT NULL, PRIMARY KEY (series_id, step)) WITHOUT ROWID;
   CREATE TABLE tray_name (id INTEGER PRIMARY KEY, tray_id TEXT NOT NULL UNIQUE);
   CREATE TABLE forecast (
     at_ms INTEGER NOT NULL, tray_name_id INTEGER NOT NULL, water_content_m3_per_m3 REAL NOT NULL,
     water_content_sd_m3_per_m3 REAL, p10_h REAL, p50_h REAL, p90_h REAL, driest_tenth_p10_h REAL,
     driest_tenth_p50_h REAL, driest_tenth_p90_h REAL, basis TEXT, lasts_until_rounds TEXT,
     PRIMARY KEY (at_ms, tray_name_id)) WITHOUT ROWID;
   CREATE TABLE fact (
     id INTEGER PRIMARY KEY, at_ms INTEGER NOT NULL, kind TEXT NOT NULL, tray_id TEXT, body TEXT NOT NULL,
     struck_out INTEGER NOT NULL DEFAULT 0);
   CREATE INDEX fact_by_kind_and_time ON fact (kind, at_ms);
   CREATE TABLE state (name TEXT PRIMARY KEY, saved_at_ms INTEGER NOT NULL, body TEXT NOT NULL);
   CREATE TABLE mark (name TEXT PRIMARY KEY, value INTEGER NOT NULL) WITHOUT ROWID;`,
  `ALTER TABLE fact ADD COLUMN curve BLOB;
   ALTER TABLE forecast ADD COLUMN container_capacity_m3_per_m3 REAL;
   ALTER TABLE forecast ADD COLUMN refill_point_m3_per_m3 REAL;`,
  `ALTER TABLE fact ADD COLUMN check_word INTEGER;
   ALTER TABLE state ADD COLUMN check_word INTEGER;`,
];

export const SCHEMA_VERSION = changes.length;

/** Writes "Drybell" into the file's head (SQLite's application_id), so that another program's database is not taken for ours. */
export const APPLICATION_ID = 0x44_72_79_42;

/** A file with all of these is ours, whatever its head says. */
const OUR_TABLES = ['probe_series', 'reading', 'fact', 'state'];

function schemaVersion(db: Database): number {
  return Number(db.pragma('user_version', { simple: true }));
}

/** SQLite calls a head that makes no sense ("unsupported file format") an error of the question. */
function tableNames(db: Database, path: string): ReadonlySet<string> {
  try {
    return new Set(db.prepare<unknown[], string>('SELECT name FROM sqlite_schema').pluck().all());
  } catch (cause) {
    if (!(cause instanceof SqliteError && cause.code === 'SQLITE_ERROR')) throw cause;
    throw new StoreError(
      'corrupt',
      `Cannot open store "${path}": its head is damaged. Restore the last backup ("drybell restore --help").`,
      { cause },
    );
  }
}

/** Refuses databases that are not ours or are newer than this program. */
export function checkIsOurs(db: Database, path: string): void {
  const version = schemaVersion(db);
  const tables = tableNames(db, path);
  const isMarked = Number(db.pragma('application_id', { simple: true })) === APPLICATION_ID;
  if (!isMarked && OUR_TABLES.every((table) => tables.has(table)))
    throw new StoreError(
      'corrupt',
      `Cannot open store "${path}": its head is damaged. Restore the last backup ("drybell restore --help").`,
    );
  if (!isMarked && tables.size > 0)
    throw new StoreError(
      'not-a-store',
      `Cannot open store "${path}": it is another program's database. Give Drybell a folder of its own under store.folder.`,
    );
  if (version > SCHEMA_VERSION)
    throw new StoreError(
      'newer-version',
      `Cannot open store "${path}": it is of version ${version} and this Drybell knows up to ${SCHEMA_VERSION}. Install the newer Drybell again, or restore a backup made before the update.`,
    );
}

/** Refuses, for those who only read, a store that the monitor has still to bring to this version. */
export function checkIsUpToDate(db: Database, path: string): void {
  const version = schemaVersion(db);
  if (version < SCHEMA_VERSION)
    throw new StoreError(
      'older-version',
      `Cannot open store "${path}": it is of version ${version} and this Drybell reads ${SCHEMA_VERSION}. Start this version's monitor once on it; that brings it up to date.`,
    );
}

/** Brings the schema to `target` (the newest unless told otherwise), each step in a transaction of its own. */
export function migrate(db: Database, target = SCHEMA_VERSION): void {
  for (let version = schemaVersion(db); version < target; version++) {
    const change = changes[version];
    if (change === undefined) throw new RangeError(`there is no schema version ${version + 1}`);
    const step = db.transaction(() => {
      db.exec(change);
      db.pragma(`user_version = ${version + 1}`);
    });
    try {
      step();
    } catch (cause) {
      if (!(cause instanceof SqliteError && cause.code === 'SQLITE_ERROR')) throw cause;
      throw new StoreError(
        'corrupt',
        `The store is not of the version ${version} that it says. Restore the last backup ("drybell restore --help").`,
        { cause },
      );
    }
  }
}
