import type { Command } from 'commander';
import { answerCommand } from '../asking/answer-command.js';
import { type TellFlags, withSender } from '../asking/reach-monitor.js';

const EXAMPLES = `
Examples:
  drybell away 21:00                   until the next 21:00 on the farm's clock
  drybell away 5h
  drybell away "2026-04-20 07:00"
  drybell back                         sooner than said`;

/** `drybell away` and `drybell back`. */
export function register(program: Command): void {
  withSender(
    program
      .command('away <until>')
      .description('Nobody waters until then ("21:00", "5h"): says what to water before.'),
  )
    .addHelpText('after', EXAMPLES)
    .action((until: string, flags: TellFlags) =>
      answerCommand(flags, async ({ moment }) => ({ do: 'away', until: await moment(until, 'future') })),
    );
  withSender(program.command('back').description('Rounds happen again.'))
    .addHelpText('after', EXAMPLES)
    .action((flags: TellFlags) => answerCommand(flags, () => ({ do: 'back' })));
}
