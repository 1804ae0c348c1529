import type { Command } from 'commander';
import { answerCommand } from '../house/answer-command.js';
import { type TellFlags, withTelling } from '../house/reach-monitor.js';

/** `drybell away` and `drybell back`. */
export function register(program: Command): void {
  withTelling(
    program
      .command('away <until>')
      .description('Nobody waters until then ("21:00", "5h"): says what to water before.'),
  ).action((until: string, flags: TellFlags) =>
    answerCommand(flags, (moment) => ({ do: 'away', until: moment(until, 'future') })),
  );
  withTelling(program.command('back').description('Rounds happen again.')).action((flags: TellFlags) =>
    answerCommand(flags, () => ({ do: 'back' })),
  );
}
