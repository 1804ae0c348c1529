import { Command } from 'commander';
import { commandFiles, filesFor } from './command-list.js';
import { EXIT, tellFailure } from './exit-status.js';

const program = new Command('drybell')
  .description('Watches trays of seedling blocks dry, and calls before they need water.')
  .showHelpAfterError('(drybell help tells more)')
  .exitOverride();

const [word] = process.argv.slice(2);
const isWord = word !== undefined && word !== 'help' && !word.startsWith('-');
if (isWord && !commandFiles.some(({ words }) => words.includes(word))) {
  console.error(`There is no command "${word}"; drybell help lists them.`);
  process.exit(EXIT.usedWrongly);
}

try {
  for (const { load } of filesFor(process.argv.slice(2))) (await load()).register(program);
  await program.parseAsync();
} catch (error) {
  process.exitCode = tellFailure(error);
}
