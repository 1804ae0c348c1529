import { openSqliteStore } from '../../src/store/sqlite/open-sqlite-store.js';
import { createMemoryStore } from '../helpers/memory-store.js';
import { FakeClock } from './helpers/fake-clock.js';
import { HOUR_MS, NOON_MS } from './helpers/sample-facts.js';
import { storeContract } from './helpers/store-contract.js';
import { tempFolder } from './helpers/temp-folder.js';

storeContract('the store in memory', async () => ({
  store: createMemoryStore(),
  settle: async () => undefined,
}));

storeContract('the store in SQLite', async () => ({
  store: openSqliteStore({ folder: tempFolder(), clock: new FakeClock(NOON_MS + 24 * HOUR_MS) }),
  settle: async () => undefined,
}));
