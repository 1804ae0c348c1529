import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { Database } from '../../src/host/disk/sqlite.js';
import { SPOOL_FILE, Spool } from '../../src/store/influx/spool.js';

const NOW_MS = Date.parse('2026-04-18T12:00:00Z');
const NOTE = { kind: 'note', at: '2026-04-18T11:59:00Z', by: 'farm', text: 'shade cloth drawn' };
let folder: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'drybell-spool-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** The first programs marked the file as theirs and wrote no version. */
it.each([
  ['the time before versions', 0],
  ['the first version', 1],
])('a spool of %s goes on with what waits and what was refused', (_, version) => {
  const earlier = new Database(join(folder, SPOOL_FILE));
  earlier.pragma('page_size = 1024');
  earlier.pragma('journal_mode = WAL');
  earlier.exec(`CREATE TABLE spool (number INTEGER PRIMARY KEY AUTOINCREMENT, at_ms INTEGER NOT NULL, body TEXT NOT NULL);
    CREATE TABLE quarantine (number INTEGER PRIMARY KEY, quarantined_at_ms INTEGER NOT NULL,
      reason TEXT NOT NULL, at_ms INTEGER NOT NULL, body TEXT NOT NULL);
    CREATE TABLE mark (name TEXT PRIMARY KEY, value INTEGER NOT NULL) WITHOUT ROWID;`);
  earlier.prepare('INSERT INTO spool VALUES (7, 5, ?)').run(JSON.stringify(NOTE));
  earlier.prepare("INSERT INTO quarantine VALUES (6, 9, 'field type', 4, ?)").run(JSON.stringify(NOTE));
  earlier.pragma(`application_id = ${0x44_62_53_70}`);
  earlier.pragma(`user_version = ${version}`);
  earlier.close();

  const spool = new Spool(folder, NOW_MS);
  expect(spool.trouble).toBeUndefined();
  expect(spool.oldest(9, 1000)).toMatchObject([{ number: 7, atMs: 5, fact: NOTE }]);
  expect(spool.quarantined(9)).toMatchObject([{ number: 6, reason: 'field type', fact: NOTE }]);
  expect(readdirSync(folder).filter((name) => name.includes('.damaged-'))).toEqual([]);
  spool.close();
});

it('a spool that is no database is set aside under a dated name, said, and begun anew', () => {
  writeFileSync(join(folder, SPOOL_FILE), 'rust'.repeat(3000));
  const spool = new Spool(folder, NOW_MS);
  expect(spool.trouble).toMatch(/^The spool for InfluxDB is damaged .*\.damaged-2026-04-18T12-00-00-000Z/);
  expect(spool.waitingCount).toBe(0);
  spool.close();
});
