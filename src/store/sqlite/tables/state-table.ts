import type { Database, Statement } from '../../../host/disk/sqlite.js';
import { StoreError } from '../../both/store-error.js';
import { bodyCheck, isAsWritten } from './body-check.js';

/** Documents of one name that are kept aside; the oldest go first. */
const ASIDE_AT_MOST = 3;

const ASIDE_MARK = ' set aside ';

/** State documents by name, as JSON. */
export class StateTable {
  readonly #db: Database;
  readonly #save: Statement;

  constructor(db: Database) {
    this.#db = db;
    this.#save = db.prepare(
      'INSERT OR REPLACE INTO state (name, saved_at_ms, body, check_word) VALUES (?, ?, ?, ?)',
    );
  }

  save(name: string, body: string, nowMs: number): void {
    this.#save.run(name, nowMs, body, bodyCheck(body));
  }

  /** Renames a document; the new name says when, and the name is free again. */
  setAside(name: string, nowMs: number): string {
    const aside = `${name}${ASIDE_MARK}${new Date(nowMs).toISOString()}`;
    this.#db.transaction(() => {
      this.#db.prepare('UPDATE OR REPLACE state SET name = ? WHERE name = ?').run(aside, name);
      this.#db
        .prepare(
          `DELETE FROM state WHERE name IN
           (SELECT name FROM state WHERE name GLOB ? ORDER BY name DESC LIMIT -1 OFFSET ?)`,
        )
        .run(`${name}${ASIDE_MARK}*`, ASIDE_AT_MOST);
    })();
    return aside;
  }
}

/** A document as it was saved last; undefined when there is none. Throws a StoreError `garbled`. */
export function readDocumentBody(db: Database, name: string): unknown {
  const row = db
    .prepare<unknown[], { readonly body: unknown; readonly checkWord: number | null }>(
      'SELECT body, check_word AS checkWord FROM state WHERE name = ?',
    )
    .get(name);
  if (row === undefined) return undefined;
  const body = String(row.body);
  try {
    if (isAsWritten(body, row.checkWord)) return JSON.parse(body);
  } catch (cause) {
    if (!(cause instanceof SyntaxError)) throw cause;
  }
  throw new StoreError(
    'garbled',
    `The state "${name}" is not what was saved: bytes of it were changed or lost.`,
  );
}

/** Names of the documents that were set aside, oldest first. */
export function asideNames(db: Database): readonly string[] {
  return db
    .prepare<unknown[], string>('SELECT name FROM state WHERE name GLOB ? ORDER BY name')
    .pluck()
    .all(`*${ASIDE_MARK}*`);
}
