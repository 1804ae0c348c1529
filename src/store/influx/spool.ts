import { join } from 'node:path';
import { toInstant } from '../../../shared/base/ids.js';
import {
  type OpenedDatabase,
  openSmallDatabase,
  type SmallDatabase,
} from '../../host/disk/small-database.js';
import type { Database, Statement } from '../../host/disk/sqlite.js';
import type { Fact } from '../../monitor/ports/facts.js';
import { toStoreError } from '../sqlite/file/sqlite-errors.js';

export const SPOOL_FILE = 'influx-spool.db';

const PAGE_BYTES = 1024;
const BYTES_PER_MB = 1_000_000;

const spoolFile: SmallDatabase = {
  name: 'The spool for InfluxDB',
  // "DbSp"
  applicationId: 0x44_62_53_70,
  changes: [
    `CREATE TABLE spool (number INTEGER PRIMARY KEY AUTOINCREMENT, at_ms INTEGER NOT NULL, body TEXT NOT NULL);
     CREATE TABLE quarantine (number INTEGER PRIMARY KEY, quarantined_at_ms INTEGER NOT NULL,
       reason TEXT NOT NULL, at_ms INTEGER NOT NULL, body TEXT NOT NULL);
     CREATE TABLE mark (name TEXT PRIMARY KEY, value INTEGER NOT NULL) WITHOUT ROWID;`,
  ],
  unmarkedVersion: (tables) => (tables.has('spool') ? 1 : 0),
  pageBytes: PAGE_BYTES,
  isShared: true,
  carried: [
    { table: 'spool', order: ['number', 'number DESC'] },
    { table: 'quarantine', order: ['number', 'number DESC'] },
  ],
};

/** A body of which bytes were changed on the disk goes on its way as a note that says so: it must not keep back what comes after. */
function parsed(body: string, atMs: number): Fact {
  try {
    return JSON.parse(body) as Fact;
  } catch (cause) {
    if (!(cause instanceof SyntaxError)) throw cause;
    const text = 'An entry for InfluxDB could not be read: bytes of it were changed on the disk.';
    return { kind: 'note', at: toInstant(atMs), by: 'monitor', text };
  }
}

function openSpool(path: string, nowMs: number): OpenedDatabase {
  try {
    return openSmallDatabase(path, spoolFile, nowMs);
  } catch (cause) {
    throw toStoreError(`open the spool "${path}"`, cause);
  }
}

/** A fact on its way to InfluxDB. Numbers grow and are never used again. */
export interface Spooled {
  readonly number: number;
  readonly atMs: number;
  readonly fact: Fact;
  readonly bytes: number;
}

export interface Quarantined {
  readonly number: number;
  readonly quarantinedAtMs: number;
  readonly reason: string;
  readonly fact: Fact;
}

interface Row {
  readonly number: number;
  readonly atMs: number;
  readonly body: string;
}

/** Facts that InfluxDB does not have yet, and those that it refused, in a file of their own. */
export class Spool {
  /** What was found amiss when it was opened, and what became of it. */
  readonly trouble: string | undefined;
  readonly #db: Database;
  readonly #insert: Statement;
  readonly #putAll: (facts: readonly Fact[], atMs: (fact: Fact) => number) => void;

  /** Without a limit it takes what the disk takes. */
  constructor(folder: string, nowMs: number, limitMb?: number) {
    const path = join(folder, SPOOL_FILE);
    const { database: db, trouble } = openSpool(path, nowMs);
    if (limitMb !== undefined)
      db.pragma(`max_page_count = ${Math.ceil((limitMb * BYTES_PER_MB) / PAGE_BYTES)}`);
    this.#db = db;
    this.trouble = trouble;
    this.#insert = db.prepare('INSERT INTO spool (at_ms, body) VALUES (?, ?)');
    this.#putAll = db.transaction((facts: readonly Fact[], atMs: (fact: Fact) => number) => {
      for (const fact of facts) this.#insert.run(atMs(fact), JSON.stringify(fact));
    });
  }

  /** All of them or none; synced to the disk when `isUrgent`. */
  put(facts: readonly Fact[], atMs: (fact: Fact) => number, isUrgent: boolean): void {
    this.#db.pragma(`synchronous = ${isUrgent ? 'FULL' : 'NORMAL'}`);
    if (facts.length === 0) {
      if (isUrgent) this.#db.prepare("INSERT OR REPLACE INTO mark (name, value) VALUES ('synced', 1)").run();
      return;
    }
    this.#putAll(facts, atMs);
  }

  /** The oldest facts, at most `count` of them and about `bytes` of text. */
  oldest(count: number, bytes: number): readonly Spooled[] {
    const rows = this.#db
      .prepare<unknown[], Row>('SELECT number, at_ms AS atMs, body FROM spool ORDER BY number LIMIT ?')
      .iterate(count);
    const spooled: Spooled[] = [];
    let total = 0;
    for (const { number, atMs, body } of rows) {
      total += body.length;
      if (spooled.length > 0 && total > bytes) break;
      spooled.push({ number, atMs, fact: parsed(body, atMs), bytes: body.length });
    }
    return spooled;
  }

  /** Forgets what InfluxDB has taken and sets what it refused apart, in one transaction. */
  settle(
    done: readonly Spooled[],
    refused: readonly { readonly spooled: Spooled; readonly reason: string }[],
    nowMs: number,
  ): void {
    this.#db.pragma('synchronous = NORMAL');
    const remove = this.#db.prepare('DELETE FROM spool WHERE number = ?');
    const quarantine = this.#db.prepare(
      `INSERT OR REPLACE INTO quarantine (number, quarantined_at_ms, reason, at_ms, body)
       SELECT number, ?, ?, at_ms, body FROM spool WHERE number = ?`,
    );
    this.#db.transaction(() => {
      for (const { spooled, reason } of refused) quarantine.run(nowMs, reason, spooled.number);
      for (const { number } of [...done, ...refused.map(({ spooled }) => spooled)]) remove.run(number);
    })();
  }

  /** Facts that wait; worked out from the ends, since numbers leave the spool in order. */
  get waitingCount(): number {
    return (
      this.#db
        .prepare<unknown[], number>('SELECT coalesce(max(number) - min(number) + 1, 0) FROM spool')
        .pluck()
        .get() ?? 0
    );
  }

  get quarantinedCount(): number {
    return this.#db.prepare<unknown[], number>('SELECT count(*) FROM quarantine').pluck().get() ?? 0;
  }

  /** Facts that InfluxDB refused, newest first. */
  quarantined(limit: number): readonly Quarantined[] {
    return this.#db
      .prepare<unknown[], Row & { quarantinedAtMs: number; reason: string }>(
        `SELECT number, at_ms AS atMs, body, quarantined_at_ms AS quarantinedAtMs, reason FROM quarantine
         ORDER BY number DESC LIMIT ?`,
      )
      .all(limit)
      .map(({ number, atMs, body, quarantinedAtMs, reason }) => ({
        number,
        quarantinedAtMs,
        reason,
        fact: parsed(body, atMs),
      }));
  }

  /** Sends everything in quarantine once more, for when the server's schema was mended. Returns how many. */
  releaseQuarantined(): number {
    return this.#db.transaction(() => {
      const { changes } = this.#db
        .prepare('INSERT INTO spool (at_ms, body) SELECT at_ms, body FROM quarantine ORDER BY number')
        .run();
      this.#db.prepare('DELETE FROM quarantine').run();
      return changes;
    })();
  }

  close(): void {
    this.#db.close();
  }
}
