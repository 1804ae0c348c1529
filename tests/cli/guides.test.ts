import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readingProgram, typedWords } from '../helpers/command-examples.js';

/** What people read with a keyboard at hand. */
const GUIDES = [
  'README.md',
  'shared/running.md',
  'shared/phones.md',
  'hardware/README.md',
  'firmware-notes/README.md',
  'src/worlds/look/decisions/recognising-a-file.md',
  'tests/benchmark/README.md',
];
const COMMAND = /^(?:\$ )?(?:sudo )?(?:npx )?drybell ([a-z-][^|]*)$/;

/** Command lines of a guide: those of its blocks, and those that stand between backticks in a sentence. */
function commandsIn(guide: string): readonly (readonly string[])[] {
  const lines = guide.split('\n').map((line) => line.trim());
  const spans = [...guide.matchAll(/(?<!`)`([^`\n]+)`(?!`)/g)].map(([, span = '']) => span);
  return [...lines, ...spans].flatMap((line) => {
    const [, command] = COMMAND.exec(line) ?? [];
    return command === undefined ? [] : [typedWords(command)];
  });
}

/** A command that is only named, as in "`drybell tray weighed` now and then", wants what its words or options leave out. */
const NAMED_ONLY = ['commander.missingArgument', 'commander.missingMandatoryOptionValue'];
const isNameOnly = (error: unknown): boolean =>
  error instanceof Error && 'code' in error && NAMED_ONLY.includes(String(error.code));

describe('the commands of the guides', () => {
  it.each(GUIDES)('in %s are taken by the command line', async (file) => {
    const refused: string[] = [];
    for (const words of commandsIn(readFileSync(file, 'utf8')))
      await (await readingProgram())
        .parseAsync(words, { from: 'user' })
        .catch((error: unknown) => isNameOnly(error) || refused.push(`${words.join(' ')}: ${String(error)}`));
    expect(refused).toEqual([]);
  });

  it('are found in blocks, between backticks and behind npx or sudo, without the remark beside them', () => {
    const guide = [
      '    sudo npx drybell service install --config farm.json',
      '`drybell probes --boards` lists it',
      'drybell round      the coming round',
    ].join('\n');
    expect(commandsIn(guide)).toEqual([
      ['service', 'install', '--config', 'farm.json'],
      ['round'],
      ['probes', '--boards'],
    ]);
  });
});
