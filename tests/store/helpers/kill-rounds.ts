import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { openSqliteStore } from '../../../src/store/sqlite/open-sqlite-store.js';
import { FakeClock } from './fake-clock.js';
import { HOUR_MS, NOON_MS } from './sample-facts.js';

const here = dirname(fileURLToPath(import.meta.url));

/** A compiled helper of this folder, wherever this one runs from. */
export function compiledHelper(name: string): string {
  const beside = join(here, `${name}.js`);
  const built = join(here, '../../../dist/tests/store/helpers', `${name}.js`);
  const path = existsSync(beside) ? beside : built;
  if (!existsSync(path)) throw new Error(`${built} is missing: run "npm run build" first`);
  return path;
}

/** Starts a process that keeps facts, kills it with SIGKILL after `acks` acknowledgements; returns the last one it printed. */
async function killAfter(folder: string, first: number, acks: number): Promise<number> {
  const child = spawn(process.execPath, [compiledHelper('keep-and-tell'), folder, String(first)], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  let last = first - 1;
  for await (const line of createInterface({ input: child.stdout })) {
    if (!/^\d+$/.test(line)) throw new Error(`the process that keeps facts ended with: ${line}`);
    last = Number(line);
    if (last - first + 1 >= acks) child.kill('SIGKILL');
  }
  return last;
}

export interface KillReport {
  readonly rounds: number;
  readonly acknowledged: number;
  readonly lost: number;
  readonly doubled: number;
}

/** Kills a writing process again and again; whatever it acknowledged must be in the store each time. */
export async function killRounds(folder: string, rounds: number, random: () => number): Promise<KillReport> {
  let next = 0;
  let acknowledged = 0;
  let lost = 0;
  let doubled = 0;
  let acknowledgedState = -1;
  const span = { fromMs: NOON_MS, toMs: NOON_MS + 900 * HOUR_MS };
  for (let round = 0; round < rounds; round++) {
    const last = await killAfter(folder, next, 1 + Math.floor(random() * 40));
    acknowledged += last - next + 1;
    const store = openSqliteStore({ folder, clock: new FakeClock(NOON_MS + 1000 * HOUR_MS) });
    const notes = await store.facts(['note'], span, 1_000_000);
    const kept = notes.flatMap((fact) => (fact.kind === 'note' ? [Number(fact.text)] : []));
    const numbers = new Set(kept);
    for (let n = 0; n <= last; n++) if (!numbers.has(n)) lost += 1;
    doubled += kept.length - numbers.size;
    const readings = await store.readings('temp-south', span, 1_000_000);
    lost += Math.max(0, last + 1 - readings.length);
    const state = await store.loadState('desk');
    const stateN = Number(Object(state).n ?? -1);
    for (let n = next; n <= last; n++) if (n % 7 === 0) acknowledgedState = n;
    if (stateN < acknowledgedState) lost += 1;
    await store.close();
    next = Math.max(...kept, last) + 1;
  }
  return { rounds, acknowledged, lost, doubled };
}
