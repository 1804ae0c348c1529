import { spawnSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { commandFiles, filesFor } from '../../src/cli/command-list.js';
import { createProgram } from '../../src/cli/run-cli.js';
import { completions } from '../../src/cli/shell/complete.js';
import { manualPage, roff } from '../../src/cli/shell/manual.js';
import { completionScripts } from '../../src/cli/shell/scripts.js';
import { describeIf, toolPath } from '../helpers/needs.js';

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
    expect(stdout).toBe('asked:\\ complete\\ --\\ tray\\ move\\ leek-1\\ n');
  });
});

/** A crop may be called anything; a shell must get it back as one word. */
const ODD = `Lamb's "best" $HOME * Möhre`;
/** Stands for the program: it knows one name, and nothing else where the word at hand does not begin it. */
const KNOWS_ODD = `for last in "$@"; do :; done; case $ODD in "$last"*) printf '%s\\n' "$ODD";; esac`;
const completed = (shell: string, args: readonly string[], script: string): string =>
  spawnSync(shell, [...args, '-c', script], {
    encoding: 'utf8',
    env: { ...process.env, ODD, LC_ALL: 'C.UTF-8' },
  }).stdout;

describeIf('bash', 'the completion of bash', () => {
  it.each([`Lamb`, `Lamb\\'s\\ \\"b`, `'Lamb`, `"Lamb`])('gives %s back as one word', (typed) => {
    const script = (last: string): string => `drybell() { ${KNOWS_ODD}; }; ${completionScripts.bash}
COMP_WORDS=(drybell watered "$CUR"); COMP_CWORD=2; CUR=; _drybell; ${last}`;
    const run = (last: string): string =>
      completed('bash', ['--norc'], `CUR=${`'${typed.replaceAll("'", `'\\''`)}'`}; ${script(last)}`);
    const [reply, again] = [run(`printf '%s' "\${COMPREPLY[0]}"`), run(`eval "printf %s \${COMPREPLY[0]}"`)];
    if (/^['"]/.test(typed)) expect(reply).toBe(ODD);
    else expect(again).toBe(ODD);
  });
});

const hasZsh = toolPath('zsh') !== undefined;
describe.skipIf(!hasZsh)(`the completion of zsh${hasZsh ? '' : ' (skipped: apt-get install zsh)'}`, () => {
  it.each([`Lamb`, `Lamb\\'s`])('finds a name that begins with %s', (typed) => {
    const script = `drybell() { ${KNOWS_ODD}; }; compdef() { :; }; compadd() { printf '%s' "$found[1]"; }; _files() { :; }
${completionScripts.zsh}
words=(drybell watered "$CUR"); CURRENT=3; PREFIX=$CUR; _drybell`;
    const quoted = `'${typed.replaceAll("'", `'\\''`)}'`;
    expect(completed('zsh', ['-f'], `CUR=${quoted}; ${script}`)).toBe(ODD);
  });
});

const hasFish = toolPath('fish') !== undefined;
describe.skipIf(!hasFish)(
  `the completion of fish${hasFish ? '' : ' (skipped: apt-get install fish)'}`,
  () => {
    it.each([`Lamb`, `'Lamb`, `"Lamb`])('finds a name that begins with %s', (typed) => {
      const script = `function drybell; string match -q -- "$argv[-1]*" $ODD; and echo $ODD; end
${completionScripts.fish}
complete -C ${`"drybell watered ${typed.replaceAll('"', '\\"')}"`}`;
      expect(completed('fish', ['--no-config'], script)).toContain(ODD);
    });
  },
);

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
