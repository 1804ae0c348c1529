import type { Command } from 'commander';
import type { KnownNames } from './known-names.js';

/** The command that the words name, and those after it that are its own. */
function commandOf(
  program: Command,
  words: readonly string[],
): { command: Command; rest: readonly string[] } {
  let command = program;
  let taken = 0;
  for (const word of words) {
    const next = command.commands.find((one) => one.name() === word);
    if (next === undefined) break;
    command = next;
    taken += 1;
  }
  return { command, rest: words.slice(taken) };
}

function visibleNames(command: Command): readonly string[] {
  return command
    .createHelp()
    .visibleCommands(command)
    .map((one) => one.name());
}

/**
 * Words that may stand next: options after a dash, values of the option before, commands, and the farm's names, which are asked for
 * only where one may stand.
 */
export async function completions(
  program: Command,
  words: readonly string[],
  current: string,
  askNames: () => Promise<KnownNames>,
): Promise<readonly string[]> {
  const fitting = (all: readonly string[]): readonly string[] =>
    [...new Set(all)].filter((word) => word.startsWith(current));
  const { command, rest } = commandOf(program, words);
  if (current.startsWith('-'))
    return fitting([
      '--help',
      ...command.options.filter(({ hidden }) => !hidden).flatMap(({ long }) => long ?? []),
    ]);
  const before = rest.at(-1);
  const option =
    before === undefined
      ? undefined
      : command.options.find(({ long, short }) => long === before || short === before);
  if (option?.argChoices !== undefined) return fitting(option.argChoices);
  if (option !== undefined && (option.required || option.optional))
    return fitting((await askNames())[option.attributeName()] ?? []);
  const operands = rest.filter((word) => !word.startsWith('-'));
  const { registeredArguments } = command;
  const argument =
    registeredArguments[operands.length] ?? registeredArguments.findLast((one) => one.variadic);
  // what stands after the trays is told in the usage only: <which...> <bench>
  const last = /> <(\w+)>$/.exec(command.usage())?.[1] ?? '';
  const subcommands = rest.length === 0 ? visibleNames(command) : [];
  if (argument === undefined && last === '') return fitting(subcommands);
  if (argument?.argChoices !== undefined) return fitting([...subcommands, ...argument.argChoices]);
  const names = await askNames();
  return fitting([
    ...subcommands,
    ...(argument === undefined ? [] : (names[argument.name()] ?? [])),
    ...(operands.length > 0 ? (names[last === 'kind' ? 'cover' : last] ?? []) : []),
  ]);
}
