import type { Command } from 'commander';

/** Text for a manual page: nothing of it is taken for a request, and its dashes stay dashes that can be copied. */
export function roff(text: string): string {
  return text
    .replaceAll('\\', '\\e')
    .replaceAll('-', '\\-')
    .replace(/^([.'])/gm, '\\&$1');
}

/** What stands below a command's help: examples and explanations. */
function belowHelp(command: Command): string {
  let text = '';
  command.configureOutput({
    writeOut: (piece) => {
      text += piece;
    },
  });
  command.outputHelp();
  return text.slice(command.helpInformation().length).trim();
}

function optionLines(command: Command): string[] {
  return command
    .createHelp()
    .visibleOptions(command)
    .filter(({ long }) => long !== '--help')
    .flatMap(({ flags, description }) => ['.TP', `.B ${roff(flags)}`, roff(description)]);
}

function commandLines(command: Command, before: string): string[] {
  const name = `${before} ${command.name()}`;
  const below = belowHelp(command);
  return [
    `.SS ${roff(`${name} ${command.usage()}`)}`,
    roff(command.description()),
    ...optionLines(command),
    ...(below === '' ? [] : ['.PP', '.nf', roff(below), '.fi']),
    ...command.commands.flatMap((sub) => commandLines(sub, name)),
  ];
}

/** The manual page of the whole program in the man macros of troff, from the same texts as the help. */
export function manualPage(program: Command, version: string): string {
  const commands = program
    .createHelp()
    .visibleCommands(program)
    .filter((one) => one.name() !== 'help');
  return `${[
    `.TH DRYBELL 1 "" "Drybell ${roff(version)}" "User commands"`,
    '.SH NAME',
    `drybell \\- ${roff(program.description())}`,
    '.SH SYNOPSIS',
    '.B drybell',
    '[command] [options]',
    '.SH DESCRIPTION',
    roff(belowHelp(program)),
    '.SH COMMANDS',
    ...commands.flatMap((command) => commandLines(command, 'drybell')),
    '.SH ENVIRONMENT',
    '.TP',
    '.B DRYBELL_CONFIG',
    'Configuration to use where none is named.',
    '.TP',
    '.B DRYBELL_PASSWORD',
    'Password for the broker.',
    '.TP',
    '.B NO_COLOR',
    'Takes the colours off.',
    '.SH FILES',
    '.TP',
    '.I drybell.jsonc, drybell.json',
    'The configuration, in the folder in which a command is typed.',
  ].join('\n')}\n`;
}
