import { Command } from 'commander';
import { filesFor } from './command-list.js';

const program = new Command('drybell')
  .description('Watches trays of seedling blocks dry, and calls before they need water.')
  .showHelpAfterError('(drybell help tells more)');

try {
  for (const { load } of filesFor(process.argv.slice(2))) (await load()).register(program);
  await program.parseAsync();
} catch (error) {
  // Operational failures carry a code and a message for people; anything else is our own mistake and shows its stack.
  if (!(error instanceof Error && 'code' in error && typeof error.code === 'string')) throw error;
  console.error(error.message);
  process.exitCode = 1;
}
