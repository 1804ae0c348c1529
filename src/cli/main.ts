import { Command } from 'commander';
import { register as registerCheck } from './commands/check.js';
import { register as registerConvert } from './commands/convert.js';
import { register as registerDemo } from './commands/demo.js';
import { register as registerReplay } from './commands/replay.js';

const program = new Command('drybell')
  .description('Watches trays of seedling blocks dry, and calls before they need water.')
  .showHelpAfterError('(drybell help tells more)');

for (const register of [registerCheck, registerConvert, registerDemo, registerReplay]) register(program);

await program.parseAsync();
