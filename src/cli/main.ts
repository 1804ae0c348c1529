import { Command } from 'commander';

const program = new Command('drybell').description(
  'Watches trays of seedling blocks dry, and calls before they need water.',
);

await program.parseAsync();
