import { execFile } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import type { Command } from 'commander';
import { COMPLETE } from '../../src/cli/command-list.js';
import { createProgram } from '../../src/cli/run-cli.js';
import { openSqliteStore } from '../../src/store/sqlite/open-sqlite-store.js';
import { everyCommand, examplesIn, helpOf, nameOf } from './command-examples.js';
import { freePort } from './running-monitor.js';

const main = resolve('dist/src/cli/main.js');

export const MISHAPS = [
  'mistyped',
  'missing file',
  'closed pipe',
  'pipe closed after a line',
  'no store',
  'no terminal',
] as const;
export type Mishap = (typeof MISHAPS)[number];

/** What a command said and did about a mishap. */
export interface Mishandled {
  readonly command: string;
  readonly mishap: Mishap;
  /** As it was typed; undefined where the mishap can't befall this command. */
  readonly typed: readonly string[] | undefined;
  /** undefined: it went on until it was stopped, as a monitor does. */
  readonly status: number | undefined;
  readonly out: string;
  readonly err: string;
}

/** Long enough for the slowest to end by itself on a busy machine; what goes on is stopped. */
const GOES_ON_S = 25;
const STOPPED_BY_TIMEOUT = 124;
const AT_ONCE = 2;
const PIPES: Partial<Record<Mishap, string>> = {
  'closed pipe': 'true',
  'pipe closed after a line': 'head -1',
};
const NO_FILE = '/nowhere/drybell.jsonc';

/** Two neighbouring letters swapped, in the middle of a word if they differ there. */
function mistyped(name: string): string {
  const middle = Math.max(0, Math.floor(name.length / 2) - 1);
  const at = name[middle] === name[middle + 1] ? middle - 1 : middle;
  return `${name.slice(0, at)}${name[at + 1] ?? ''}${name[at] ?? ''}${name.slice(at + 2)}`;
}

/** Words with this configuration instead of the example's. */
export function withConfig(words: readonly string[], command: Command, config: string): readonly string[] {
  const at = words.indexOf('--config');
  if (at >= 0) return words.toSpliced(at + 1, 1, config);
  return command.options.some(({ long }) => long === '--config') ? [...words, '--config', config] : words;
}

function typedFor(command: Command, mishap: Mishap, farms: Farms): readonly string[] | undefined {
  const name = nameOf(command).split(' ');
  if (mishap === 'mistyped') return [...name.slice(0, -1), mistyped(name.at(-1) ?? '')];
  const example = examplesIn(helpOf(command), false).find(
    (words) => words.slice(0, name.length).join(' ') === name.join(' '),
  );
  if (example === undefined) return undefined;
  if (mishap === 'missing file') {
    const named = withConfig(example, command, NO_FILE);
    return named.includes(NO_FILE) || example.some((word) => /\.(csv|jsonc?|txt|db)$/i.test(word))
      ? named
      : undefined;
  }
  return withConfig(example, command, mishap === 'no store' ? farms.bare : farms.kept);
}

/** Two farms that nobody watches: one without a store, one with an empty one. */
export interface Farms {
  readonly folder: string;
  readonly bare: string;
  readonly kept: string;
}

export async function makeFarms(): Promise<Farms> {
  const folder = mkdtempSync(join(tmpdir(), 'drybell-mishaps-'));
  const write = async (name: string): Promise<string> => {
    const file = join(folder, `${name}.json`);
    const [listenPort, pagePort] = [await freePort(), await freePort()];
    writeFileSync(
      file,
      JSON.stringify({
        farm: 'alder-row',
        benches: [{ id: 'south' }],
        trays: [{ id: 'celery-1', bench: 'south', blockSideMm: 19, blockCount: 280, crop: 'celery' }],
        messaging: { listenPort },
        page: { listenPort: pagePort },
        store: { folder: join(folder, `${name}-data`) },
      }),
    );
    return file;
  };
  const farms = { folder, bare: await write('bare'), kept: await write('kept') };
  const still = {
    nowMs: () => Date.now(),
    monotonicMs: () => 0,
    sleep: (_ms: number, signal?: AbortSignal) =>
      new Promise<void>((_, wake) => {
        signal?.addEventListener('abort', () => wake(signal.reason as Error), { once: true });
      }),
  };
  mkdirSync(join(folder, 'kept-data'));
  await openSqliteStore({ folder: join(folder, 'kept-data'), clock: still }).close();
  return farms;
}

const quoted = (word: string): string => `'${word.replaceAll("'", "'\\''")}'`;

function typeIt(
  words: readonly string[],
  mishap: Mishap,
  { folder, kept, bare }: Farms,
): Promise<{ status: number | undefined; out: string; err: string }> {
  const cwd = mkdtempSync(join(folder, 'here-'));
  const command = [
    // a session of its own has no terminal to fall back on
    ...(mishap === 'no terminal' ? ['setsid', '--wait'] : []),
    'timeout',
    '--signal=TERM',
    '--kill-after=20',
    String(GOES_ON_S),
    process.execPath,
    main,
    ...words,
  ]
    .map(quoted)
    .join(' ');
  const readBy = PIPES[mishap];
  const reader = `${command} < /dev/null${readBy === undefined ? '' : ` | ${readBy}; exit \${PIPESTATUS[0]}`}`;
  return new Promise((done) => {
    execFile(
      'bash',
      ['-c', reader],
      {
        cwd,
        env: {
          ...process.env,
          DRYBELL_CONFIG: mishap === 'no store' ? bare : kept,
        },
      },
      (error, out, err) => {
        const status = error === null ? 0 : Number(error.code);
        done({ status: status === STOPPED_BY_TIMEOUT ? undefined : status, out, err });
      },
    );
  });
}

/** One command line that meets a mishap. */
export type Meeting = Pick<Mishandled, 'command' | 'mishap' | 'typed'>;

async function meetings(farms: Farms): Promise<readonly Meeting[]> {
  const program = await createProgram(['manual']);
  return everyCommand(program)
    .map((command) => [nameOf(command), command] as const)
    .filter(([name]) => name !== COMPLETE)
    .flatMap(([name, command]) =>
      MISHAPS.map((mishap) => ({ command: name, mishap, typed: typedFor(command, mishap, farms) })),
    );
}

/** What can be typed without a farm, and ends at once: every command mistyped, and with a file that is not there. */
export async function wrongWords(): Promise<readonly Meeting[]> {
  const nowhere = { folder: '/nowhere', bare: NO_FILE, kept: NO_FILE };
  return (await meetings(nowhere)).filter(({ mishap }) => mishap === 'mistyped' || mishap === 'missing file');
}

/** Every command of the program met by every mishap; a command that is new is among them without a word here. */
export async function allMishaps(): Promise<readonly Mishandled[]> {
  const farms = await makeFarms();
  const waiting = [...(await meetings(farms))];
  const done: Mishandled[] = [];
  const work = async (): Promise<void> => {
    for (let next = waiting.shift(); next !== undefined; next = waiting.shift()) {
      const { typed, mishap } = next;
      const said =
        typed === undefined ? { status: undefined, out: '', err: '' } : await typeIt(typed, mishap, farms);
      done.push({ ...next, ...said });
    }
  };
  try {
    await Promise.all(Array.from({ length: AT_ONCE }, work));
  } finally {
    rmSync(farms.folder, { recursive: true, force: true });
  }
  return done;
}

/** What is not one helpful line with the right exit status; empty where all is well. */
export function faultsOf({ mishap, typed, status, out, err }: Mishandled): readonly string[] {
  if (typed === undefined) return [];
  const faults: string[] = [];
  const lines = err.split('\n').filter((line) => line.trim() !== '');
  if (/^\s+at .+:\d+|node:internal|UnhandledPromise/m.test(err)) faults.push('shows a stack');
  if (`${out}${err}`.includes('\u001b')) faults.push('colours what is no terminal');
  if (status !== undefined && ![0, 1, 2, 3].includes(status)) faults.push(`ends with ${status}`);
  if (status !== undefined && status >= 2 && lines.length === 0)
    faults.push('says nothing about its failure');
  if (status !== undefined && status >= 2 && lines.length > 3)
    faults.push(`says ${lines.length} lines about its failure`);
  if ((mishap === 'mistyped' || mishap === 'missing file') && status !== 2)
    faults.push(`ends with ${status}, not 2`);
  if (mishap === 'mistyped' && !/Did you mean/.test(err)) faults.push('has no hint');
  return faults;
}
