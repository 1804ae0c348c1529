import {
  copyFileSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Database } from '../../src/host/disk/sqlite.js';
import { checkStore } from '../../src/store/check-store.js';
import { LOCK_FILE, STORE_FILE } from '../../src/store/sqlite/file/store-file.js';
import { openSqliteStore } from '../../src/store/sqlite/open-sqlite-store.js';
import { hasDisks, mountDisk } from '../helpers/size-limited-disk.js';
import { FakeClock } from './helpers/fake-clock.js';
import { HOUR_MS, MINUTE_MS, NOON_MS, note, reading } from './helpers/sample-facts.js';
import { tempFolder } from './helpers/temp-folder.js';

const everything = { fromMs: NOON_MS - HOUR_MS, toMs: NOON_MS + 1000 * HOUR_MS };
const DAY_MS = 24 * HOUR_MS;
const open = (folder: string, atMs = NOON_MS + DAY_MS) =>
  openSqliteStore({ folder, clock: new FakeClock(atMs), onDamage: 'set-aside' });

/** A store with a journal, a state and a day of readings. */
async function livedStore(folder = tempFolder()): Promise<string> {
  const store = open(folder, NOON_MS);
  await store.keep([
    ...Array.from({ length: 1440 }, (_, n) =>
      reading('temp-south', NOON_MS + n * MINUTE_MS, { rawValue: n % 31 }),
    ),
    ...Array.from({ length: 100 }, (_, n) => note(NOON_MS + n, `note ${n}`)),
  ]);
  await store.saveState('desk', { version: 1, text: 'y'.repeat(20_000) });
  await store.close();
  return folder;
}
const asideIn = (folder: string) => readdirSync(folder).filter((name) => name.includes('.damaged-'));

describe('a store that is not as it was left', () => {
  it('is said nothing of when it is', async () => {
    const folder = await livedStore();
    const store = open(folder);
    expect(store.troubles?.()).toEqual([]);
    await store.close();
  });

  it('of 0 bytes: is set aside, said, and begun anew', async () => {
    const folder = await livedStore();
    truncateSync(join(folder, STORE_FILE));
    const store = open(folder);
    expect(store.troubles?.()).toEqual([
      expect.stringMatching(/is empty, though it was kept until 2026-04-18T12:00/),
    ]);
    expect(asideIn(folder)).toHaveLength(1);
    await store.keep([note(NOON_MS, 'anew')]);
    await store.close();
    const again = open(folder);
    expect(again.troubles?.()).toEqual([]);
    await again.close();
  });

  it('that is gone: is said', async () => {
    const folder = await livedStore();
    rmSync(join(folder, STORE_FILE));
    const store = open(folder);
    expect(store.troubles?.()).toEqual([expect.stringMatching(/is empty, though it was kept until/)]);
    await store.close();
  });

  it('that lost its log: says from when to when', async () => {
    const folder = await livedStore();
    const early = join(folder, 'early.db');
    copyFileSync(join(folder, STORE_FILE), early);
    const store = open(folder, NOON_MS + DAY_MS);
    await store.keep([note(NOON_MS + DAY_MS, 'lost')]);
    await store.close();
    copyFileSync(early, join(folder, STORE_FILE));
    const later = open(folder, NOON_MS + 2 * DAY_MS);
    expect(later.troubles?.()).toEqual([
      expect.stringMatching(
        /ends at 2026-04-18T12:00:00.000Z, though it was kept until 2026-04-19T12:00:00.000Z/,
      ),
    ]);
    expect((await later.facts(['note'], everything, 200)).length).toBe(100);
    await later.close();
  });

  it('of a newer version: journal, states and readings are taken over', async () => {
    const folder = await livedStore();
    const file = new Database(join(folder, STORE_FILE));
    file.pragma('user_version = 99');
    file.exec('ALTER TABLE reading ADD COLUMN weight_g REAL');
    file.close();
    const store = open(folder);
    expect(store.troubles?.()).toEqual([
      expect.stringMatching(
        /was written by a newer Drybell\. .* 100 journal entries and 1440 readings of it/,
      ),
    ]);
    expect(await store.facts(['note'], everything, 200)).toHaveLength(100);
    expect(await store.readings('temp-south', everything, 5000)).toHaveLength(1440);
    expect(await store.loadState('desk')).toMatchObject({ version: 1 });
    await store.close();
  });

  it('is not called sound by store-check while something lies aside', async () => {
    const folder = await livedStore();
    writeFileSync(join(folder, STORE_FILE), 'x'.repeat(5000));
    await open(folder).close();
    const { damage, aside } = checkStore(folder, false, NOON_MS);
    expect(damage).toEqual([]);
    expect(aside).toEqual([expect.stringContaining(`${STORE_FILE}.damaged-2026-04-19`)]);
  });

  it('with a garbled lock: is opened', async () => {
    const folder = await livedStore();
    writeFileSync(join(folder, LOCK_FILE), 'rust'.repeat(1000));
    await open(folder).close();
  });

  it('with any byte of its head flipped: opens with its journal, or says what became of it', async () => {
    const whole = readFileSync(join(await livedStore(), STORE_FILE));
    for (let at = 0; at < 100; at++) {
      const folder = tempFolder();
      const bytes = Buffer.from(whole);
      bytes[at] = (bytes[at] ?? 0) ^ 0x41;
      writeFileSync(join(folder, STORE_FILE), bytes);
      const store = open(folder);
      const count = (await store.facts(['note'], everything, 200)).length;
      expect(count === 100 || (store.troubles?.() ?? []).length > 0, `byte ${at}`).toBe(true);
      await store.close();
      rmSync(folder, { recursive: true });
    }
  }, 60_000);

  it('with 50 flipped bytes anywhere: opens, answers every question, takes facts, and opens again', async () => {
    const lived = await livedStore();
    const whole = readFileSync(join(lived, STORE_FILE));
    const place = fc.nat(whole.length - 1);
    await fc.assert(
      fc.asyncProperty(fc.array(place, { minLength: 50, maxLength: 50 }), async (places) => {
        const folder = tempFolder();
        const bytes = Buffer.from(whole);
        for (const at of places) bytes[at] = (bytes[at] ?? 0) ^ 0x41;
        writeFileSync(join(folder, STORE_FILE), bytes);
        for (const round of [1, 2]) {
          const store = open(folder);
          const state = await store.loadState('desk').catch((cause: { code: string }) => cause.code);
          expect(state === 'garbled' || state === undefined || typeof state === 'object').toBe(true);
          for (const text of await store.facts(['note'], everything, 500))
            expect(text.kind === 'note' && /^(note \d+|kept \d)$/.test(text.text ?? '')).toBe(true);
          await store.readings('temp-south', everything, 5000);
          await store.readingBuckets('temp-south', everything, 100);
          await store.latestForecasts();
          await store.probes();
          await store.keep([note(NOON_MS + DAY_MS, `kept ${round}`)], { desk: { version: 1 } });
          await store.close();
        }
        rmSync(folder, { recursive: true });
      }),
      { numRuns: 40 },
    );
  }, 120_000);
});

describe.skipIf(!hasDisks())('a full disk at start (a mounted one; skipped: needs root on Linux)', () => {
  it.each(['closed', 'killed'])(
    'the store that was %s opens, answers, holds facts and writes them when there is room',
    async (how) => {
      const disk = mountDisk(4_000_000);
      if (disk === undefined) throw new Error('no disk');
      try {
        const folder = join(disk.folder, 'data');
        mkdirSync(folder);
        await livedStore(folder);
        if (how === 'killed') {
          // What a killed process leaves: the log beside the file, and no shared memory after a power cut.
          const running = open(folder, NOON_MS + DAY_MS);
          await running.keep([note(NOON_MS + 500, 'before the cut')]);
          const left = [STORE_FILE, `${STORE_FILE}-wal`].map(
            (name) => [name, readFileSync(join(folder, name))] as const,
          );
          await running.close();
          for (const [name, bytes] of left) writeFileSync(join(folder, name), bytes);
        }
        disk.fill();
        const clock = new FakeClock(NOON_MS + DAY_MS);
        const store = openSqliteStore({ folder, clock, onDamage: 'set-aside' });
        expect((await store.facts(['note'], everything, 500)).length).toBe(how === 'killed' ? 101 : 100);
        expect(await store.loadState('desk')).toMatchObject({ version: 1 });
        await store.keep([note(NOON_MS + 1000, 'z'.repeat(9000))], { desk: { version: 1 } });
        expect(store.health()).toMatchObject({ ok: false, reason: 'disk-full' });
        disk.makeRoom();
        await clock.advance(MINUTE_MS);
        expect(store.health()).toEqual({ ok: true, reason: '' });
        // Others can read it again.
        expect(checkStore(folder, false, NOON_MS)).toMatchObject({ damage: [], readingCount: 1440 });
        await store.close();
        const again = open(folder);
        expect((await again.facts(['note'], everything, 500)).at(-1)).toEqual(
          note(NOON_MS + 1000, 'z'.repeat(9000)),
        );
        await again.close();
      } finally {
        disk.unmount();
      }
    },
  );
});
