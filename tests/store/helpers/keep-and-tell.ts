// Run as a process of its own: keeps numbered notes, readings and states for ever, and prints each number once it is acknowledged.

import { StoreError } from '../../../src/store/both/store-error.js';
import { openSqliteStore } from '../../../src/store/sqlite/open-sqlite-store.js';
import { HOUR_MS, NOON_MS, note, reading } from './sample-facts.js';

const [folder, firstText] = process.argv.slice(2);
if (folder === undefined) throw new TypeError('expected a folder');

const clock = {
  nowMs: () => NOON_MS + 1000 * HOUR_MS,
  monotonicMs: () => performance.now(),
  sleep: (_: number, signal?: AbortSignal) =>
    new Promise<void>((_resolve, reject) => signal?.addEventListener('abort', () => reject(signal.reason))),
};

try {
  const store = openSqliteStore({ folder, clock });
  for (let n = Number(firstText ?? 0); ; n++) {
    await store.keep([reading('temp-south', NOON_MS + n * 1000, { rawValue: n % 50 })]);
    await store.keep([note(NOON_MS + n * 1000, `${n}`)]);
    if (n % 7 === 0) await store.saveState('desk', { n });
    process.stdout.write(`${n}\n`);
  }
} catch (cause) {
  process.stdout.write(`${cause instanceof StoreError ? cause.code : String(cause)}\n`);
  process.exitCode = 1;
}
