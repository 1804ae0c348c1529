import { Command } from 'commander';
import { commandFiles } from '../../src/cli/command-list.js';

/** A command and all below it. */
export function everyCommand(command: Command): readonly Command[] {
  return command.commands.flatMap((one) => [one, ...everyCommand(one)]);
}

/** `tray move` */
export function nameOf(command: Command): string {
  return command.parent === null ? '' : `${nameOf(command.parent)} ${command.name()}`.trim();
}

export function helpOf(command: Command): string {
  let text = '';
  command.configureOutput({ writeOut: (part) => (text += part) }).outputHelp();
  return text;
}

/** The words of an example as a shell reads them; two spaces outside quotes begin the remark beside it. */
export function typedWords(line: string): readonly string[] {
  const typed = /^(?:"[^"]*"|[^" ]| (?! ))*/.exec(line)?.[0] ?? '';
  return [...typed.matchAll(/"([^"]*)"|[^" ]+/g)].map(([word, quoted]) => quoted ?? word);
}

/** The examples in a help text, lines that go on joined; those that want root only where they are asked for. */
export function examplesIn(help: string, withRoot = true): readonly (readonly string[])[] {
  const joined = help.replace(/ \\\n +/g, ' ');
  const pattern = withRoot ? /^ {2}(?:sudo )?(drybell(?: .*)?)$/gm : /^ {2}(drybell(?: .*)?)$/gm;
  return [...joined.matchAll(pattern)].map(([, line = '']) => typedWords(line).slice(1));
}

/** A program with every command, none of which does anything: what is typed is only read. */
export async function readingProgram(): Promise<Command> {
  const program = new Command('drybell').exitOverride().configureOutput({ writeErr: () => undefined });
  for (const { load } of commandFiles) (await load()).register(program);
  for (const command of everyCommand(program))
    command
      .exitOverride()
      .configureOutput({ writeErr: () => undefined })
      .action(() => undefined);
  return program;
}
