import {
  closeSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { Database } from '../../src/host/disk/sqlite.js';
import { openForWriting, STORE_FILE } from '../../src/store/sqlite/file/store-file.js';
import { openSqliteReview } from '../../src/store/sqlite/open-sqlite-review.js';
import { openSqliteStore } from '../../src/store/sqlite/open-sqlite-store.js';
import { inWords } from '../helpers/in-words.js';
import { FakeClock } from './helpers/fake-clock.js';
import { HOUR_MS, MINUTE_MS, NOON_MS, note, reading } from './helpers/sample-facts.js';
import { tempFolder } from './helpers/temp-folder.js';

const everything = { fromMs: NOON_MS - HOUR_MS, toMs: NOON_MS + 1000 * HOUR_MS };
const later = () => new FakeClock(NOON_MS + 24 * HOUR_MS);

describe('a disk that is full', () => {
  async function filledStore(heldLimit: number) {
    const folder = tempFolder();
    let file: Database | undefined;
    const clock = later();
    const store = openSqliteStore({
      folder,
      clock,
      heldLimit,
      openFile: (where) => {
        file = openForWriting(where);
        return file;
      },
    });
    const limitPages = (pages: number) => file?.pragma(`max_page_count = ${pages}`);
    await store.keep([note(NOON_MS, 'before')]);
    limitPages(1);
    return { store, clock, makeRoom: () => limitPages(0x7fff_ffff) };
  }
  const longNotes = (count: number) =>
    Array.from({ length: count }, (_, n) => note(NOON_MS + n, `${n} ${'x'.repeat(2000)}`));

  it('holds facts back in memory, says so, loses nothing, and goes on by itself when there is room', async () => {
    const { store, clock, makeRoom } = await filledStore(1000);
    for (const fact of longNotes(30)) await store.keep([fact]);
    await store.saveState('desk', { text: 'y'.repeat(5000) });
    expect(store.health()).toMatchObject({
      ok: false,
      reason: 'disk-full',
      own: ['asItIs', expect.stringContaining('30 facts wait in memory')],
    });
    await expect(store.flush()).rejects.toMatchObject({ code: 'held-back' });
    expect(await store.loadState('desk')).toEqual({ text: 'y'.repeat(5000) });
    makeRoom();
    await clock.advance(MINUTE_MS);
    expect(store.health()).toEqual({ ok: true, reason: '' });
    const kept = await store.facts(['note'], everything, 100);
    expect(kept).toEqual([note(NOON_MS, 'before'), ...longNotes(30)]);
    await store.close();
  });

  it('writes states with the facts before them, or neither', async () => {
    const { store, clock, makeRoom } = await filledStore(1000);
    await store.keep([note(NOON_MS, 'x'.repeat(4000))], { desk: { text: 'y'.repeat(5000) } });
    expect(store.health().ok).toBe(false);
    expect(await store.facts(['note'], everything, 9)).toEqual([note(NOON_MS, 'before')]);
    makeRoom();
    await clock.advance(MINUTE_MS);
    expect(store.health().ok).toBe(true);
    expect(await store.facts(['note'], everything, 9)).toHaveLength(2);
    expect(await store.loadState('desk')).toEqual({ text: 'y'.repeat(5000) });
    await store.close();
  });

  it('that has become read-only while running is told so; nothing is lost, and it goes on when it can be written again', async () => {
    const folder = tempFolder();
    let file: Database | undefined;
    const openFile = (where: string) => {
      file = openForWriting(where);
      return file;
    };
    const clock = later();
    const store = openSqliteStore({ folder, clock, openFile });
    file?.pragma('query_only = ON');
    await store.keep([note(NOON_MS, 'kept all the same')]);
    expect(store.health()).toMatchObject({ ok: false, reason: 'read-only' });
    file?.pragma('query_only = OFF');
    await clock.advance(MINUTE_MS);
    expect(store.health()).toEqual({ ok: true, reason: '' });
    expect(await store.facts(['note'], everything, 9)).toEqual([note(NOON_MS, 'kept all the same')]);
    await store.close();
  });

  it('drops the oldest readings first when too much is held, counts them, and keeps every note', async () => {
    const { store, makeRoom } = await filledStore(50);
    await store.keep(Array.from({ length: 200 }, (_, n) => reading('temp-south', NOON_MS + n * MINUTE_MS)));
    await store.keep(longNotes(20));
    expect(inWords(store.health().own)).toMatch(/50 facts wait in memory, 170 were dropped, readings first/);
    makeRoom();
    await store.flush();
    expect(await store.facts(['note'], everything, 100)).toHaveLength(21);
    const readings = await store.readings('temp-south', everything, 1000);
    expect(readings.map(({ observedAtMs }) => (observedAtMs - NOON_MS) / MINUTE_MS)).toEqual(
      Array.from({ length: 30 }, (_, n) => 170 + n),
    );
    await store.close();
  });

  it('says at the end that facts could not be stored', async () => {
    const { store } = await filledStore(50);
    await store.keep(longNotes(5));
    await expect(store.close()).rejects.toMatchObject({ code: 'held-back' });
  });
});

describe('a store that cannot be used', () => {
  async function madeStore(): Promise<string> {
    const folder = tempFolder();
    const store = openSqliteStore({ folder, clock: later() });
    await store.keep([
      ...Array.from({ length: 2000 }, (_, n) =>
        reading('temp-south', NOON_MS + n * MINUTE_MS, { rawValue: n % 31 }),
      ),
      note(NOON_MS, 'one'),
    ]);
    await store.saveState('desk', { trays: ['t1'] });
    await store.close();
    return folder;
  }
  const opening = (folder: string) => () => openSqliteStore({ folder, clock: later() });

  it('names a missing folder', () => {
    expect(opening(join(tempFolder(), 'no', 'such'))).toThrow(
      expect.objectContaining({ code: 'folder-missing' }),
    );
  });

  it('makes a folder of which only the last part is missing', async () => {
    await opening(join(tempFolder(), 'data'))().close();
  });

  it('names a file in the place of the folder', () => {
    const path = join(tempFolder(), 'data');
    writeFileSync(path, '');
    expect(opening(path)).toThrow(expect.objectContaining({ code: 'folder-missing' }));
  });

  it('names a folder that takes no files', () => {
    // Nobody can make a file there, not even root, who is above permission bits.
    expect(opening('/proc/self')).toThrow(expect.objectContaining({ code: 'read-only' }));
  });

  it('names a directory in the place of the file', () => {
    const folder = tempFolder();
    mkdirSync(join(folder, STORE_FILE));
    expect(opening(folder)).toThrow(expect.objectContaining({ code: 'read-only' }));
  });

  it('refuses a file that is no database, and leaves it as it is', () => {
    const folder = tempFolder();
    writeFileSync(
      join(folder, STORE_FILE),
      'field notes, not a database, longer than a header of a hundred bytes'.repeat(40),
    );
    const before = readFileSync(join(folder, STORE_FILE), 'utf8');
    expect(opening(folder)).toThrow(expect.objectContaining({ code: 'corrupt' }));
    expect(readFileSync(join(folder, STORE_FILE), 'utf8')).toBe(before);
  });

  it("refuses another program's database, and leaves it as it is", () => {
    const folder = tempFolder();
    const other = new Database(join(folder, STORE_FILE));
    other.exec('CREATE TABLE seeds (name TEXT)');
    other.close();
    expect(opening(folder)).toThrow(expect.objectContaining({ code: 'not-a-store' }));
  });

  it('refuses a database of a newer version', async () => {
    const folder = await madeStore();
    const file = new Database(join(folder, STORE_FILE));
    file.pragma('user_version = 99');
    file.close();
    expect(opening(folder)).toThrow(expect.objectContaining({ code: 'newer-version' }));
    expect(() => openSqliteReview({ folder })).toThrow(expect.objectContaining({ code: 'newer-version' }));
  });

  /** A store with a journal and readings whose last run was not closed, and of which pages of the readings are overwritten. */
  async function damagedStore(): Promise<string> {
    const folder = await madeStore();
    const path = join(folder, STORE_FILE);
    const file = new Database(path);
    file.exec("UPDATE mark SET value = 0 WHERE name = 'closed-cleanly'");
    file.pragma('journal_mode = DELETE');
    const pages = file
      .prepare<unknown[], number>(
        "SELECT pageno FROM dbstat WHERE name = 'reading' AND pagetype = 'leaf' LIMIT 5",
      )
      .pluck()
      .all();
    file.close();
    const handle = openSync(path, 'r+');
    for (const page of pages) writeSync(handle, Buffer.alloc(1000, 0xa5), 0, 1000, (page - 1) * 1024);
    closeSync(handle);
    return folder;
  }

  it('finds damage at start after a run that was not closed', async () => {
    const folder = await damagedStore();
    expect(opening(folder)).toThrow(expect.objectContaining({ code: 'corrupt' }));
  });

  it('sets a damaged file aside when told to, carries states and journal over, and says so', async () => {
    const folder = await damagedStore();
    // The first page says how the file is journalled, which opening it may change.
    const afterFirstPage = (path: string) => readFileSync(path).subarray(1024);
    const damaged = afterFirstPage(join(folder, STORE_FILE));
    const store = openSqliteStore({ folder, clock: later(), onDamage: 'set-aside' });
    expect(await store.facts(['note'], everything, 10)).toEqual([note(NOON_MS, 'one')]);
    expect(await store.loadState('desk')).toEqual({ trays: ['t1'] });
    await store.keep([note(NOON_MS, 'two')]);
    expect(store.health()).toMatchObject({ ok: false, reason: 'damaged' });
    const aside = readdirSync(folder).find((name) => name.includes('.damaged-')) ?? '';
    expect(afterFirstPage(join(folder, aside)).equals(damaged)).toBe(true);
    rmSync(join(folder, aside));
    expect(store.health()).toEqual({ ok: true, reason: '' });
    await store.close();
  });

  it('sets a file aside of which nothing can be read', async () => {
    const folder = tempFolder();
    writeFileSync(join(folder, STORE_FILE), 'x'.repeat(5000));
    const store = openSqliteStore({ folder, clock: later(), onDamage: 'set-aside' });
    expect(store.health()).toMatchObject({ ok: false, reason: 'damaged' });
    await store.close();
  });

  /** Overwrites what SQLite does not check: one letter of a body. */
  function garble(folder: string, table: string, from: string, to: string): void {
    const file = new Database(join(folder, STORE_FILE));
    file.prepare(`UPDATE ${table} SET body = replace(body, ?, ?)`).run(from, to);
    file.close();
  }

  it('leaves a garbled journal entry out and gives the others', async () => {
    const folder = await madeStore();
    const before = openSqliteStore({ folder, clock: later() });
    await before.keep([note(NOON_MS + 1, 'two'), note(NOON_MS + 2, 'six')]);
    await before.close();
    garble(folder, 'fact', 'two', 'twö');
    garble(folder, 'fact', '"text":"six"', '"text":six');
    const store = openSqliteStore({ folder, clock: later() });
    expect(await store.facts(['note'], everything, 10)).toEqual([note(NOON_MS, 'one')]);
    await store.close();
  });

  it('says that a state is not what was saved, and sets it aside under a dated name', async () => {
    const folder = await madeStore();
    garble(folder, 'state', 't1', 't7');
    const store = openSqliteStore({ folder, clock: later() });
    await expect(store.loadState('desk')).rejects.toMatchObject({ code: 'garbled' });
    expect(await store.setStateAside('desk')).toBe('desk set aside 2026-04-19T12:00:00.000Z');
    expect(await store.loadState('desk')).toBeUndefined();
    await store.saveState('desk', { trays: [] });
    expect(await store.loadState('desk')).toEqual({ trays: [] });
    await store.close();
  });

  it('a question to a folder without a store is answered with a code', () => {
    expect(() => openSqliteReview({ folder: tempFolder() })).toThrow(
      expect.objectContaining({ code: 'folder-missing' }),
    );
  });

  it('opens again after each refusal, since the lock is let go', async () => {
    const folder = await madeStore();
    const file = new Database(join(folder, STORE_FILE));
    const version = file.pragma('user_version', { simple: true });
    file.pragma('user_version = 99');
    expect(opening(folder)).toThrow(expect.objectContaining({ code: 'newer-version' }));
    file.pragma(`user_version = ${version}`);
    file.close();
    await opening(folder)().close();
  });
});

describe('a value that is no finite number', () => {
  it('is kept as missing with a reason, and the rest of the batch with it', async () => {
    const store = openSqliteStore({ folder: tempFolder(), clock: later() });
    await store.keep([
      reading('temp-south', NOON_MS, { rawValue: Number.NaN }),
      reading('temp-south', NOON_MS + 1, { rawValue: 1e300 }),
    ]);
    await store.flush();
    const back = await store.readings('temp-south', everything, 10);
    expect(back[0]).toMatchObject({ rawValue: undefined, flag: 9, flagReasons: ['not-finite'] });
    expect(back[1]?.rawValue).toBe(1e300);
    await store.close();
  });
});
