import { execFile } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { stripVTControlCharacters } from 'node:util';
import { COMPLETE } from '../../src/cli/command-list.js';
import { createProgram } from '../../src/cli/run-cli.js';
import { everyCommand, examplesIn, helpOf, nameOf } from './command-examples.js';
import { type Farms, makeFarms, withConfig } from './mishaps.js';

const main = resolve('dist/src/cli/main.js');

/** What goes on by itself has said enough by then. */
const GOES_ON_S = 8;
const STOPPED_BY_TIMEOUT = 124;

/** What a command showed on a terminal of so many columns. */
export interface Shown {
  readonly typed: readonly string[];
  readonly columns: number;
  readonly isColoured: boolean;
  readonly text: string;
}

/** These hand out data or a file's text, which stays as it is however narrow the terminal. */
const DATA = /^(export|completion|manual|service install)\b/;

const quoted = (word: string): string => `'${word.replaceAll("'", "'\\''")}'`;

/** Types a command on a pseudo-terminal of so many columns; after a while what goes on is stopped. */
export function showAt(
  typed: readonly string[],
  columns: number,
  isColoured: boolean,
  folder: string,
): Promise<Shown> {
  const command = ['timeout', '--foreground', String(GOES_ON_S), process.execPath, main, ...typed].map(
    quoted,
  );
  const { NO_COLOR: _, FORCE_COLOR: __, ...env } = process.env;
  return new Promise((done, failed) => {
    const child = execFile(
      'script',
      ['-qec', `stty cols ${columns} rows 50; ${command.join(' ')}`, '/dev/null'],
      {
        cwd: mkdtempSync(join(folder, 'here-')),
        env: {
          ...env,
          ...(isColoured ? {} : { NO_COLOR: '1' }),
          TERM: 'xterm',
          TZ: 'UTC',
          DRYBELL_CONFIG: '',
          SHELL: '/bin/sh',
        },
      },
      (error, text) => {
        if (error !== null && typeof error.code !== 'number') failed(error);
        else if (error?.code === STOPPED_BY_TIMEOUT || text.length > 0 || error === null)
          done({ typed, columns, isColoured, text });
        else failed(error);
      },
    );
    child.stdin?.end();
  });
}

/** Lines that are wider than the terminal though they could be broken, and escapes that nobody wanted; empty where all is well. */
export function misfits({ typed, columns, isColoured, text }: Shown): readonly string[] {
  const lines = text
    .replaceAll('\r', '')
    .split('\n')
    .map((line) => stripVTControlCharacters(line))
    .filter((line) => line.length > columns && line.trim().includes(' '));
  const isData = DATA.test(typed.join(' ')) || typed.includes('--json');
  return [
    ...(isData ? [] : lines.map((line) => `${line.length} wide: ${line}`)),
    ...(isColoured || !text.includes('\u001b') ? [] : ['escapes although NO_COLOR is set']),
  ];
}

/** The first example of every command, on a farm with an empty store that nobody watches. */
async function examples(farms: Farms): Promise<readonly (readonly string[])[]> {
  const program = await createProgram(['manual']);
  return everyCommand(program)
    .filter((command) => nameOf(command) !== COMPLETE)
    .flatMap((command) => {
      const name = nameOf(command).split(' ');
      const example = examplesIn(helpOf(command), false).find(
        (words) => words.slice(0, name.length).join(' ') === name.join(' '),
      );
      return example === undefined ? [] : [withConfig(example, command, farms.kept), [...name, '--help']];
    });
}

/** Every command at each width, with and without colours. */
export async function everyWidth(widths: readonly number[], tell: (shown: Shown) => void): Promise<void> {
  const farms = await makeFarms();
  try {
    for (const typed of await examples(farms))
      for (const columns of widths)
        for (const isColoured of [true, false]) tell(await showAt(typed, columns, isColoured, farms.folder));
  } finally {
    rmSync(farms.folder, { recursive: true, force: true });
  }
}
