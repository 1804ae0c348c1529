import { join } from 'node:path';
import { expect, it } from 'vitest';
import { openSqliteStore } from '../../src/store/sqlite/open-sqlite-store.js';
import { backUpStore } from '../../src/store/sqlite/upkeep/backup.js';
import { restoreStore } from '../../src/store/sqlite/upkeep/restore.js';
import { FakeClock } from './helpers/fake-clock.js';
import { MINUTE_MS, NOON_MS, note } from './helpers/sample-facts.js';
import { tempFolder } from './helpers/temp-folder.js';

const LONG_TEXT = 'the vents of the south house stick '.repeat(40);

it('a backup is of one moment and comes to its end while the monitor writes at every step, and says how far it is', async () => {
  const folder = tempFolder();
  const store = openSqliteStore({ folder, clock: new FakeClock(NOON_MS) });
  const noteAt = (n: number) => note(NOON_MS + n * MINUTE_MS, `${n} ${LONG_TEXT}`);
  await store.keep(Array.from({ length: 12_000 }, (_, n) => noteAt(n)));
  await store.flush();
  const shares: number[] = [];
  const written: Promise<boolean>[] = [];
  const file = join(tempFolder(), 'backup.db');
  const { factCount } = await backUpStore(folder, file, (share) => {
    shares.push(share);
    written.push(store.keep([noteAt(20_000 + shares.length)]));
  });
  await Promise.all(written);
  await store.close();
  expect(factCount).toBe(12_000);
  // how often depends on how busy this process is: it is told of the newest step
  expect(shares.length).toBeGreaterThan(1);
  expect(shares).toEqual([...shares].sort((a, b) => a - b));
  expect(shares.at(-1)).toBe(0.5);

  const restored: number[] = [];
  const elsewhere = tempFolder();
  const options = { replace: false, nowMs: NOON_MS, onProgress: (share: number) => restored.push(share) };
  expect(restoreStore(file, elsewhere, options).factCount).toBe(12_000);
  expect(restored).toEqual([0.2, 1]);
});
