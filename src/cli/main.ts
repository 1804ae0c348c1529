import { Command, CommanderError } from 'commander';
import { commandFiles, filesFor } from './command-list.js';

const BAD_INPUT = 2;
const FAILED = 1;

/** Help asked for is no mistake; any other word or flag that a command does not know is bad input. */
function exitStatusOf(error: CommanderError): number {
  return error.exitCode === 0 ? 0 : BAD_INPUT;
}

const program = new Command('drybell')
  .description('Watches trays of seedling blocks dry, and calls before they need water.')
  .showHelpAfterError('(drybell help tells more)')
  .exitOverride();

const [word] = process.argv.slice(2);
const isWord = word !== undefined && word !== 'help' && !word.startsWith('-');
if (isWord && !commandFiles.some(({ words }) => words.includes(word))) {
  console.error(`There is no command "${word}"; drybell help lists them.`);
  process.exit(BAD_INPUT);
}

try {
  for (const { load } of filesFor(process.argv.slice(2))) (await load()).register(program);
  await program.parseAsync();
} catch (error) {
  if (error instanceof CommanderError) process.exit(exitStatusOf(error));
  // Operational failures carry a code and a message for people; anything else is our own mistake and shows its stack.
  if (!(error instanceof Error && 'code' in error && typeof error.code === 'string')) throw error;
  console.error(error.message);
  process.exitCode = FAILED;
}
