import { Command } from 'commander';
import { describe, expect, it } from 'vitest';
import { commandFiles } from '../../src/cli/command-list.js';

/** A program with every command, none of which does anything: what is typed is only read. */
async function readingProgram(): Promise<Command> {
  const program = new Command('drybell').exitOverride().configureOutput({ writeErr: () => undefined });
  for (const { load } of commandFiles) (await load()).register(program);
  for (const command of everyCommand(program))
    command
      .exitOverride()
      .configureOutput({ writeErr: () => undefined })
      .action(() => undefined);
  return program;
}

function everyCommand(command: Command): readonly Command[] {
  return command.commands.flatMap((one) => [one, ...everyCommand(one)]);
}

function nameOf(command: Command): string {
  return command.parent === null ? '' : `${nameOf(command.parent)} ${command.name()}`.trim();
}

function helpOf(command: Command): string {
  let text = '';
  command.configureOutput({ writeOut: (part) => (text += part) }).outputHelp();
  return text;
}

/** The words of an example as a shell reads them; two spaces outside quotes begin the remark beside it. */
function typedWords(line: string): readonly string[] {
  const typed = /^(?:"[^"]*"|[^" ]| (?! ))*/.exec(line)?.[0] ?? '';
  return [...typed.matchAll(/"([^"]*)"|[^" ]+/g)].map(([word, quoted]) => quoted ?? word);
}

/** The examples in a help text, lines that go on joined. */
function examplesIn(help: string): readonly (readonly string[])[] {
  const joined = help.replace(/ \\\n +/g, ' ');
  return [...joined.matchAll(/^ {2}(?:sudo )?(drybell(?: .*)?)$/gm)].map(([, line = '']) =>
    typedWords(line).slice(1),
  );
}

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
