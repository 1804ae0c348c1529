import { Command } from 'commander';
import { describe, expect, it } from 'vitest';
import { commandFiles, filesFor } from '../../src/cli/command-list.js';

describe('the commands', () => {
  it('every file registers exactly the words it is loaded for, each described', async () => {
    for (const { words, load } of commandFiles) {
      const program = new Command('drybell');
      (await load()).register(program);
      expect(program.commands.map((command) => command.name())).toEqual(words);
      for (const command of program.commands) expect(command.description()).not.toBe('');
    }
  });

  it('a known word loads its file only, no word the house, anything else all for the help', () => {
    expect(filesFor(['estimate', '--help']).map(({ words }) => words)).toEqual([['estimate']]);
    expect(filesFor([]).map(({ words }) => words)).toEqual([['run']]);
    expect(filesFor(['--help'])).toBe(commandFiles);
    expect(filesFor(['sprinkle'])).toBe(commandFiles);
  });
});
