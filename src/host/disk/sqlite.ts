import { existsSync } from 'node:fs';
import { backup, DatabaseSync, type StatementSyncInstance } from '@photostructure/sqlite';

/** An error of SQLite's own; `code` is its name, "SQLITE_FULL", or of a finer kind "SQLITE_IOERR_SHMSIZE". */
export class SqliteError extends Error {
  constructor(
    message: string,
    readonly code: string,
    options?: ErrorOptions,
  ) {
    super(message, options);
    this.name = 'SqliteError';
  }
}

/** Finer result codes that are asked for by name (https://www.sqlite.org/rescode.html); others keep their number. */
const FINER: Readonly<Record<number, string>> = {
  4618: 'SHMOPEN',
  4874: 'SHMSIZE',
  5130: 'SHMLOCK',
  5386: 'SHMMAP',
};
const LARGEST_PRIMARY_CODE = 255;

function ours(cause: unknown): unknown {
  if (!(cause instanceof Error && 'sqliteCodeName' in cause && 'errcode' in cause)) return cause;
  const number = Number(cause.errcode);
  const name = String(cause.sqliteCodeName);
  const code = number > LARGEST_PRIMARY_CODE ? `${name}_${FINER[number] ?? number}` : name;
  return new SqliteError(cause.message, code, { cause });
}

function asking<T>(work: () => T): T {
  try {
    return work();
  } catch (cause) {
    throw ours(cause);
  }
}

type Value = string | number | bigint | Uint8Array | null;

/** What is absent is NULL. */
function bound(values: readonly unknown[]): Value[] {
  return values.includes(undefined)
    ? values.map((value) => (value === undefined ? null : (value as Value)))
    : (values as Value[]);
}

/** A statement that is prepared, until its database is closed. Rows come as `Row`. */
export class Statement<Values extends readonly unknown[] = unknown[], Row = unknown> {
  #isPlucked = false;
  readonly #statement: StatementSyncInstance;

  constructor(statement: StatementSyncInstance) {
    this.#statement = statement;
  }

  /** The first column alone of each row. */
  pluck(): this {
    this.#isPlucked = true;
    return this.raw();
  }

  /** Rows as lists. */
  raw(): this {
    this.#statement.setReturnArrays(true);
    return this;
  }

  run(...values: Values): { readonly changes: number; readonly lastInsertRowid: number | bigint } {
    const { changes, lastInsertRowid } = asking(() => this.#statement.run(...bound(values)));
    return { changes: Number(changes), lastInsertRowid };
  }

  get(...values: Values): Row | undefined {
    const row = asking(() => this.#statement.get(...bound(values)));
    return row === undefined ? undefined : this.#read(row);
  }

  all(...values: Values): Row[] {
    const rows = asking(() => this.#statement.all(...bound(values)));
    return this.#isPlucked ? rows.map((row) => this.#read(row)) : (rows as Row[]);
  }

  *iterate(...values: Values): IterableIterator<Row> {
    const rows = asking(() => this.#statement.iterate(...bound(values)));
    try {
      for (let next = asking(() => rows.next()); next.done !== true; next = asking(() => rows.next()))
        yield this.#read(next.value);
    } finally {
      rows.return?.();
    }
  }

  #read(row: unknown): Row {
    return (this.#isPlucked ? (row as unknown[])[0] : row) as Row;
  }
}

export interface OpenOptions {
  readonly readonly?: boolean;
  readonly fileMustExist?: boolean;
  /** How long to wait for another process that holds it, ms. */
  readonly timeout?: number;
}

/** How long to wait for another process that holds the file, ms (judgement: longer than any transaction of ours). */
const USUAL_WAIT_MS = 5000;

/** An SQLite file, or ":memory:". Throws SqliteError. Once closed nothing of it is open, whatever still remembers a statement. */
export class Database {
  readonly #db: InstanceType<typeof DatabaseSync>;

  constructor(path: string, options: OpenOptions = {}) {
    if (options.fileMustExist === true && !existsSync(path))
      throw new SqliteError(`there is no file "${path}"`, 'SQLITE_CANTOPEN');
    const { readonly: readOnly = false, timeout = USUAL_WAIT_MS } = options;
    this.#db = asking(() => new DatabaseSync(path, { readOnly, timeout }));
  }

  get open(): boolean {
    return this.#db.isOpen;
  }

  prepare<Values extends readonly unknown[] = unknown[], Row = unknown>(sql: string): Statement<Values, Row> {
    return new Statement(asking(() => this.#db.prepare(sql)));
  }

  exec(sql: string): void {
    asking(() => this.#db.exec(sql));
  }

  /** Rows of a pragma, or with `simple` the first value of the first. */
  pragma(text: string, { simple = false }: { readonly simple?: boolean } = {}): unknown {
    return asking(() => {
      const statement = this.#db.prepare(`PRAGMA ${text}`);
      try {
        const rows = statement.all();
        return simple ? Object.values(rows[0] ?? {})[0] : rows;
      } finally {
        statement.close();
      }
    });
  }

  /** The work, done whole or not at all; within another transaction as a part of it that can fail alone. */
  transaction<Values extends readonly unknown[], T>(
    work: (...values: Values) => T,
  ): (...values: Values) => T {
    return (...values) => {
      const isInner = this.#db.isTransaction;
      this.exec(isInner ? 'SAVEPOINT inner_work' : 'BEGIN');
      try {
        const result = work(...values);
        this.exec(isInner ? 'RELEASE inner_work' : 'COMMIT');
        return result;
      } catch (cause) {
        // SQLite ends a transaction by itself where the disk is full
        if (this.#db.isTransaction)
          this.exec(isInner ? 'ROLLBACK TO inner_work; RELEASE inner_work' : 'ROLLBACK');
        throw cause;
      }
    };
  }

  /** SQLite's online backup into a file; `progress` is told between two steps of `pagesAtOnce`. */
  async backup(
    path: string,
    options: {
      readonly pagesAtOnce: number;
      readonly progress: (pages: { readonly totalPages: number; readonly remainingPages: number }) => void;
    },
  ): Promise<void> {
    const { pagesAtOnce: rate, progress } = options;
    try {
      await backup(this.#db, path, { rate, progress });
    } catch (cause) {
      throw ours(cause);
    }
  }

  close(): void {
    if (this.#db.isOpen) asking(() => this.#db.close());
  }
}
