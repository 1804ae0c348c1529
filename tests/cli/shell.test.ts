import { spawnSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { commandFiles, filesFor } from '../../src/cli/command-list.js';
import { createProgram } from '../../src/cli/run-cli.js';
import { completions } from '../../src/cli/shell/complete.js';
import { manualPage, roff } from '../../src/cli/shell/manual.js';
import { completionScripts } from '../../src/cli/shell/scripts.js';
import { describeIf } from '../helpers/needs.js';

const names = {
  tray: ['celery-1', 'leek-1'],
  which: ['celery-1', 'leek-1', 'south', 'leek', '38'],
  bench: ['south', 'north'],
  cover: ['none', 'film'],
};
const program = await createProgram(['manual']);
const typed = (line: string): Promise<readonly string[]> => {
  const words = line.split(' ');
  return completions(program, words.slice(0, -1), words.at(-1) ?? '', async () => names);
};

describe('completion in a shell', () => {
  it.each([
    ['wat', ['watered']],
    ['watered so', ['south']],
    ['watered celery-1 l', ['leek-1', 'leek']],
    ['watered --be', ['--bench']],
    ['watered --bench ', ['south', 'north']],
    ['tray germi', ['germinated']],
    ['tray move leek-1 n', ['north']],
    ['tray cover celery-1 f', ['film']],
    ['explain l', ['leek-1']],
    ['completion z', ['zsh']],
    ['undo ', []],
  ])('knows what stands at the end of "%s": %j', async (line, words) => {
    expect(await typed(line)).toEqual(words);
  });

  it('does not offer what nobody is to type', async () => {
    expect(await typed('')).toContain('watered');
    expect(await typed('')).not.toContain('complete');
  });
});

describe('what a press of the completion key loads', () => {
  it('is the command that is being typed, and none before one is', () => {
    const words = (...args: string[]) => filesFor(args).flatMap(({ words: one }) => one);
    expect(words('complete', '--', 'tray', 'germi')).toEqual(['tray', 'completion', 'manual', 'complete']);
    expect(words('complete', '--', 'wat')).toEqual(['completion', 'manual', 'complete']);
    expect(words('complete', '--', '')).toEqual(['completion', 'manual', 'complete']);
  });
});

describeIf('bash', 'the completion of bash', () => {
  it('asks the program for the word at hand', () => {
    const { stdout } = spawnSync(
      'bash',
      [
        '--norc',
        '-c',
        `drybell() { local IFS=' '; printf '%s\\n' "asked: $*"; }; ${completionScripts.bash}
COMP_WORDS=(drybell tray move leek-1 n); COMP_CWORD=4; _drybell; printf '%s' "\${COMPREPLY[0]}"`,
      ],
      { encoding: 'utf8' },
    );
    expect(stdout).toBe('asked: complete -- tray move leek-1 n');
  });
});

describe('the manual page', () => {
  const page = manualPage(program, '1.2.3');

  it('has every command and option, the exit statuses and the examples', () => {
    for (const word of commandFiles.flatMap(({ words }) => words).filter((one) => one !== 'complete'))
      expect(page).toContain(`.SS drybell ${roff(word)}`);
    expect(page).toContain('.B \\-\\-fl\\-oz <fl oz>');
    expect(page).toContain('Exit status, the same everywhere');
    expect(page).toContain('drybell watered south \\-\\-at 07:10');
  });

  it('lets no line of a text be taken for a request', () => {
    expect(roff(".TH\n'so a\\b")).toBe("\\&.TH\n\\&'so a\\eb");
  });
});

describeIf('groff', 'the manual page at groff', () => {
  it('is set without a warning', () => {
    const { status, stderr } = spawnSync('groff', ['-man', '-Kutf8', '-Tutf8', '-ww', '-z'], {
      input: manualPage(program, '1.2.3'),
      encoding: 'utf8',
    });
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  });
});
