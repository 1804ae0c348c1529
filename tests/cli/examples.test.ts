import { describe, expect, it } from 'vitest';
import { everyCommand, examplesIn, helpOf, nameOf, readingProgram } from '../helpers/command-examples.js';

const program = await readingProgram();
const commands = everyCommand(program).map((command) => [nameOf(command), command] as const);

describe('the help of every command', () => {
  it.each(commands)('drybell %s has examples', (name, command) => {
    const help = helpOf(command);
    expect(help).toMatch(/^Examples?:$/m);
    expect(
      examplesIn(help).filter((words) => words.join(' ').startsWith(name === 'run' ? '' : name)),
    ).not.toEqual([]);
  });

  it('has no example that the command line does not take', async () => {
    const examples = new Set(
      commands.flatMap(([, command]) => examplesIn(helpOf(command)).map((words) => JSON.stringify(words))),
    );
    expect(examples.size).toBeGreaterThan(commands.length);
    const refused: string[] = [];
    for (const example of examples) {
      const words: string[] = JSON.parse(example);
      const fresh = await readingProgram();
      await fresh.parseAsync(words, { from: 'user' }).catch((error: unknown) => {
        refused.push(`${words.join(' ')}: ${String(error)}`);
      });
    }
    expect(refused).toEqual([]);
  });

  it('would notice a wrong one', async () => {
    const wrong = (await readingProgram()).parseAsync(['tray', 'list', '--benches'], { from: 'user' });
    await expect(wrong).rejects.toMatchObject({ code: 'commander.unknownOption' });
  });
});
