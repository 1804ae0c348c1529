import { Database, SqliteError } from './sqlite.js';

/** What a table has; a file of an older version lacks the newer columns. */
function columnsOf(db: Database, table: string): readonly string[] {
  return db.prepare<unknown[], string>('SELECT name FROM pragma_table_info(?)').pluck().all(table);
}

/** One table to carry over: which rows come first, and at most how many of them. */
export interface CarriedTable {
  readonly table: string;
  /** ORDER BY of the way through the table; the way back is gone as well, so that one bad page costs little. */
  readonly order: readonly [there: string, back: string];
  readonly most?: number;
}

function readOn(rows: Iterable<unknown[]>, put: (row: unknown[]) => void): void {
  try {
    for (const row of rows) put(row);
  } catch (cause) {
    if (!(cause instanceof SqliteError)) throw cause;
  }
}

function carryTable(from: Database, into: Database, carried: CarriedTable): number {
  const { table, order, most = Number.MAX_SAFE_INTEGER } = carried;
  const known = new Set(columnsOf(from, table));
  const columns = columnsOf(into, table).filter((column) => known.has(column));
  if (columns.length === 0) return 0;
  const list = columns.join(', ');
  const put = into.prepare(
    `INSERT OR IGNORE INTO ${table} (${list}) VALUES (${columns.map(() => '?').join(', ')})`,
  );
  let count = 0;
  for (const direction of order) {
    const rows = from.prepare<unknown[], unknown[]>(
      `SELECT ${list} FROM ${table} NOT INDEXED ORDER BY ${direction} LIMIT ?`,
    );
    readOn(rows.raw().iterate(most), (row) => {
      if (count < most) count += put.run(...row).changes;
    });
  }
  return count;
}

/**
 * Carries rows over from a database that was set aside, as far as they can be read. Returns the number of rows by table; 0 where
 * nothing can be read. What is there already stays as it is.
 */
export function carryRows(
  fromPath: string,
  into: Database,
  tables: readonly CarriedTable[],
): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  let from: Database | undefined;
  try {
    from = new Database(fromPath, { fileMustExist: true });
    from.pragma('locking_mode = EXCLUSIVE');
    const source = from;
    for (const carried of tables) {
      const carry = into.transaction(() => carryTable(source, into, carried));
      try {
        counts.set(carried.table, carry());
      } catch (cause) {
        if (!(cause instanceof SqliteError)) throw cause;
        counts.set(carried.table, 0);
      }
    }
  } catch (cause) {
    if (!(cause instanceof SqliteError)) throw cause;
  } finally {
    from?.close();
  }
  return counts;
}
