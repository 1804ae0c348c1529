import { spawnSync } from 'node:child_process';
import { expect, it } from 'vitest';
import { openSqliteStore } from '../../src/store/sqlite/open-sqlite-store.js';
import { FakeClock } from './helpers/fake-clock.js';
import { compiledHelper, killRounds } from './helpers/kill-rounds.js';
import { NOON_MS } from './helpers/sample-facts.js';
import { seededRandom } from './helpers/seeded-random.js';
import { tempFolder } from './helpers/temp-folder.js';

it('what the store acknowledged survives 20 times kill -9, once each', async () => {
  const report = await killRounds(tempFolder(), 20, seededRandom(20260418));
  expect(report).toMatchObject({ rounds: 20, lost: 0, doubled: 0 });
  expect(report.acknowledged).toBeGreaterThan(100);
}, 120_000);

it('a second process is refused with a code, and gets the store once the first is done', async () => {
  const folder = tempFolder();
  const store = openSqliteStore({ folder, clock: new FakeClock(NOON_MS) });
  const second = spawnSync(process.execPath, [compiledHelper('keep-and-tell'), folder], { encoding: 'utf8' });
  expect(second.stdout.trim()).toBe('in-use');
  expect(() => openSqliteStore({ folder, clock: new FakeClock(NOON_MS) })).toThrow(
    expect.objectContaining({ code: 'in-use', retryable: true }),
  );
  await store.close();
  await openSqliteStore({ folder, clock: new FakeClock(NOON_MS) }).close();
});
