import { Command } from 'commander';
import { didYouMean } from '../watering/sentences/words/did-you-mean.js';
import { COMPLETE, commandFiles, filesFor, typedWords } from './command-list.js';
import { EXIT, tellFailure } from './program/exit-status.js';
import { programVersion } from './program/program-version.js';
import { pointToHelp, withComplaints } from './terminal/complaint.js';

const EXIT_WORDS = `
Exit status, the same everywhere: 0 done; 1 it looked, and what it looked at is not well; 2 used wrongly: a word, an
option, the configuration or a file can't be used; 3 it could not be done: nobody there, refused, no room.
NO_COLOR=1 takes the colours off. Progress shows on a terminal only.`;

/** The program with those of its commands that a command line needs. */
export async function createProgram(args: readonly string[]): Promise<Command> {
  const program = withComplaints(new Command('drybell'))
    .description('Watches trays of seedling blocks dry, and calls before they need water.')
    .option('--version', 'print the version')
    .addHelpText('after', EXIT_WORDS)
    .exitOverride();
  for (const { load } of filesFor(args)) (await load()).register(program);
  pointToHelp(program);
  // a completion knows the other commands by name only
  if (args[0] === COMPLETE)
    for (const word of typedWords.filter((one) => !program.commands.some((known) => known.name() === one)))
      program.command(word);
  return program;
}

const isKnown = (word: string): boolean => commandFiles.some(({ words }) => words.includes(word));

/**
 * What is wrong with the words before the first option where a command has others below it and takes no word itself:
 * the library would only count its arguments there, and give no hint.
 */
function unknownBelow(program: Command, args: readonly string[]): string | undefined {
  let command = program;
  let name = 'drybell';
  for (const word of args) {
    const below = command.commands.map((one) => one.name());
    if (word.startsWith('-') || word === 'help' || below.length === 0) return undefined;
    const next = command.commands.find((one) => one.name() === word);
    if (next === undefined)
      return command.registeredArguments.length > 0
        ? undefined
        : `There is no command "${word}" of ${name}.${didYouMean(word, below)} ${name} --help lists them.`;
    command = next;
    name = `${name} ${word}`;
  }
  return undefined;
}

/** Carries out one command line; returns its exit status. Rejects with our own mistakes only. */
export async function runCli(args: readonly string[]): Promise<number> {
  const [word] = args;
  if (word === '--version') {
    console.log(programVersion());
    return EXIT.done;
  }
  if (word !== undefined && word !== 'help' && !word.startsWith('-') && !isKnown(word)) {
    console.error(`There is no command "${word}".${didYouMean(word, typedWords)} drybell help lists them.`);
    return EXIT.usedWrongly;
  }
  try {
    const program = await createProgram(args);
    const unknown = unknownBelow(program, args);
    if (unknown !== undefined) {
      console.error(unknown);
      return EXIT.usedWrongly;
    }
    await program.parseAsync(args, { from: 'user' });
    return Number(process.exitCode ?? EXIT.done);
  } catch (error) {
    return tellFailure(error);
  }
}
