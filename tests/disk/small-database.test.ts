import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Database } from '../../src/host/disk/sqlite.js';
import { openMessagingFile } from '../../src/messaging/outbox/messaging-file.js';
import { Outbox } from '../../src/messaging/outbox/outbox.js';

const NOW_MS = Date.parse('2026-04-18T12:00:00Z');
let folder: string;
let file: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'drybell-small-'));
  file = join(folder, 'outbox.db');
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** The outbox's tables as the first version made them. */
const FIRST = `CREATE TABLE waiting (
    seq INTEGER PRIMARY KEY, id TEXT NOT NULL, kind TEXT NOT NULL, topic TEXT NOT NULL, payload TEXT NOT NULL,
    retain INTEGER NOT NULL, queued_at_ms INTEGER NOT NULL) STRICT;
  CREATE TABLE retained (topic TEXT PRIMARY KEY, payload TEXT NOT NULL) STRICT, WITHOUT ROWID;
  CREATE TABLE command (
    ref TEXT PRIMARY KEY, payload TEXT NOT NULL, received_at_ms INTEGER NOT NULL, wall_ms INTEGER NOT NULL,
    answer TEXT) STRICT, WITHOUT ROWID;
  CREATE INDEX command_by_time ON command (wall_ms);`;
/** As the second one did. */
const SECOND = FIRST.replace(/CREATE TABLE waiting[^;]*;/, '').concat(`CREATE TABLE outgoing (
    target TEXT NOT NULL, seq INTEGER NOT NULL, id TEXT NOT NULL, kind TEXT NOT NULL, topic TEXT NOT NULL,
    payload TEXT NOT NULL, retain INTEGER NOT NULL, queued_at_ms INTEGER NOT NULL,
    PRIMARY KEY (target, seq)) STRICT, WITHOUT ROWID;`);
const THIRD = `${SECOND} CREATE TABLE turn (target TEXT PRIMARY KEY, id TEXT NOT NULL) STRICT, WITHOUT ROWID;`;
const PAYLOAD = '{"sentence":"Tray t1 is dry."}';

function make(schema: string, rows: string): void {
  const database = new Database(file);
  database.exec(schema);
  database.exec(rows);
  database.close();
}
const waits = (database: Database) => new Outbox(database).next(0, 9).map(({ payload }) => payload);

/** An outbox of today in which three messages wait. */
function filled(): void {
  const { database } = openMessagingFile(file, NOW_MS);
  const messages = ['{"n":1}', '{"n":2}', '{"n":3}'].map((payload, n) => ({
    id: `m${n}`,
    kind: 'alarm' as const,
    topic: `drybell/alder-row/alarm/t${n}/dry`,
    payload,
    retain: true,
  }));
  new Outbox(database).add(messages, NOW_MS);
  database.close();
}
const asideNames = () => readdirSync(folder).filter((name) => name.includes('.damaged-'));

describe('the outbox file', () => {
  it.each([
    ['first', FIRST, `INSERT INTO waiting VALUES (7, 'm7', 'alarm', 'a/b', '${PAYLOAD}', 1, 5)`],
    ['second', SECOND, `INSERT INTO outgoing VALUES ('', 7, 'm7', 'alarm', 'a/b', '${PAYLOAD}', 1, 5)`],
    ['third', THIRD, `INSERT INTO outgoing VALUES ('', 7, 'm7', 'alarm', 'a/b', '${PAYLOAD}', 1, 5)`],
  ])('of the %s version is brought up with what waits in it', (_, schema, row) => {
    make(schema, row);
    const { database, trouble } = openMessagingFile(file, NOW_MS);
    expect(trouble).toBeUndefined();
    expect(waits(database)).toEqual([PAYLOAD]);
    expect(new Outbox(database).next(0, 9)[0]).toMatchObject({ seq: 7, retain: true, queuedAtMs: 5 });
    database.close();
    const again = openMessagingFile(file, NOW_MS);
    expect(waits(again.database)).toEqual([PAYLOAD]);
    again.database.close();
  });

  it('that is no database is set aside under a dated name, said, and begun anew', () => {
    writeFileSync(file, 'rust'.repeat(3000));
    const { database, trouble } = openMessagingFile(file, NOW_MS);
    expect(trouble).toMatch(
      /^The outbox is damaged .*outbox\.db\.damaged-2026-04-18T12-00-00-000Z".*begun anew/,
    );
    expect(asideNames()).toEqual(['outbox.db.damaged-2026-04-18T12-00-00-000Z']);
    expect(waits(database)).toEqual([]);
    database.close();
  });

  it('of a version to come is set aside, and what it has in common is taken over', () => {
    filled();
    const database = new Database(file);
    database.pragma('user_version = 99');
    database.close();
    const opened = openMessagingFile(file, NOW_MS);
    expect(opened.trouble).toMatch(/is of version 99, and this program knows up to 4/);
    expect(waits(opened.database)).toEqual(['{"n":1}', '{"n":2}', '{"n":3}']);
    opened.database.close();
  });

  it('with a garbled message keeps the others, and says how many entries were taken over', () => {
    filled();
    const database = new Database(file);
    database.exec(`UPDATE outgoing SET payload = '{"n":2' WHERE seq = 2`);
    database.close();
    const opened = openMessagingFile(file, NOW_MS);
    expect(opened.trouble).toMatch(/holds 1 entries of which bytes were changed; .* 5 entries of it/);
    expect(waits(opened.database)).toEqual(['{"n":1}', '{"n":3}']);
    expect(asideNames()).toHaveLength(1);
    opened.database.close();
  });

  it('with any byte of its head flipped opens and keeps messages', () => {
    filled();
    const whole = readFileSync(file);
    for (let at = 0; at < 100; at++) {
      const bytes = Buffer.from(whole);
      bytes[at] = (bytes[at] ?? 0) ^ 0x41;
      writeFileSync(file, bytes);
      const opened = openMessagingFile(file, NOW_MS + at);
      expect(waits(opened.database).length === 3 || opened.trouble !== undefined, `byte ${at}`).toBe(true);
      new Outbox(opened.database).add([], NOW_MS);
      opened.database.close();
      rmSync(file);
    }
  });

  it("that is another program's is left as it is under its dated name", () => {
    const other = new Database(file);
    other.exec('CREATE TABLE seeds (name TEXT)');
    other.close();
    const { database, trouble } = openMessagingFile(file, NOW_MS);
    expect(trouble).toMatch(/another program's database/);
    database.close();
    const kept = new Database(join(folder, asideNames()[0] ?? ''));
    expect(kept.prepare('SELECT * FROM seeds').all()).toEqual([]);
    kept.close();
  });
});
