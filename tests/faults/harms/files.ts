import { closeSync, existsSync, openSync, readdirSync, statSync, writeFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { Database } from '../../../src/host/disk/sqlite.js';
import { type Harm, span } from './harm.js';

const SMASHED_BYTES = 512;
const SMASHES = 8;
/** A version that no program of ours has reached. */
const NEWER = 99;

function filesOf(folder: string): readonly string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .map((name) => join(folder, name))
    .filter((path) => statSync(path).isFile() && statSync(path).size > 0 && !path.endsWith('.lock'));
}

/** Writes nonsense into a file at random places, as a worn SD card would. */
function smash(path: string, random: () => number): void {
  const file = openSync(path, 'r+');
  const { size } = statSync(path);
  for (let n = 0; n < SMASHES; n++) {
    const nonsense = Buffer.from(Array.from({ length: SMASHED_BYTES }, () => Math.floor(random() * 256)));
    writeSync(file, nonsense, 0, SMASHED_BYTES, Math.floor(random() * Math.max(1, size - SMASHED_BYTES)));
  }
  closeSync(file);
}

/** Every file that says its version, and the way to make it say another. */
const VERSIONED: readonly ((folder: string) => void)[] = [
  ...['drybell.db', 'outbox.db'].map((name) => (folder: string) => {
    const db = new Database(join(folder, name));
    db.pragma(`user_version = ${NEWER}`);
    db.close();
  }),
  (folder) => {
    const path = join(folder, 'kept-until.json');
    const note = { version: NEWER, keptUntil: new Date(0).toISOString(), more: 'of a newer program' };
    if (existsSync(path)) writeFileSync(path, JSON.stringify(note));
  },
  (folder) => {
    const db = new Database(join(folder, 'drybell.db'));
    db.prepare("UPDATE state SET body = json_set(body, '$.version', ?), check_word = NULL").run(NEWER);
    db.close();
  },
];

/** What is done to the disk and to the files on it. */
export const FILE_HARMS: readonly Harm[] = [
  {
    name: 'disk full',
    needs: ['disk'],
    spares: 'all',
    do: async ({ parts }, { random }) => {
      parts.disk?.fill();
      await sleep(span(random));
      parts.disk?.makeRoom();
    },
  },
  {
    name: 'disk full, kill -9',
    needs: ['disk'],
    spares: 'all',
    do: async ({ parts, monitor }, { random }) => {
      parts.disk?.fill();
      await sleep(span(random));
      await monitor.end('SIGKILL');
      await monitor.startAgain();
      await sleep(span(random));
      parts.disk?.makeRoom();
    },
  },
  {
    name: 'disk read-only, kill -9',
    needs: ['card'],
    spares: 'all',
    do: async ({ parts, monitor }, { random }) => {
      parts.card?.goReadOnly();
      await sleep(span(random));
      await monitor.end('SIGKILL');
      parts.card?.mend();
      await monitor.startAgain();
    },
  },
  {
    name: 'a file smashed while off',
    needs: [],
    spares: 'what-is-legible',
    do: async ({ monitor, folder }, { random }) => {
      await monitor.end('SIGKILL');
      const files = filesOf(folder);
      smash(files[Math.floor(random() * files.length)] ?? '', random);
      await monitor.startAgain();
    },
  },
  {
    name: 'a file of a newer version',
    needs: [],
    spares: 'all',
    do: async ({ monitor, folder }, { random }) => {
      await monitor.end('SIGKILL');
      VERSIONED[Math.floor(random() * VERSIONED.length)]?.(folder);
      await monitor.startAgain();
    },
  },
];
