import type { Command } from 'commander';
import { answerCommand } from '../house/answer-command.js';
import { type TellFlags, withTelling } from '../house/reach-monitor.js';

/** `drybell note` and `drybell undo`. */
export function register(program: Command): void {
  withTelling(
    program.command('note <words...>').description('Write something down, for a tray or for the day.'),
  )
    .option('--tray <id>', 'the tray it is about')
    .action((words: string[], flags: TellFlags & { readonly tray?: string }) =>
      answerCommand(flags, () => ({
        do: 'note',
        text: words.join(' '),
        ...(flags.tray === undefined ? {} : { tray: flags.tray }),
      })),
    );
  withTelling(
    program.command('undo <command-ref>').description('Take back a command of the last day, by its ref.'),
  ).action((undo: string, flags: TellFlags) => answerCommand(flags, () => ({ do: 'undo', undo })));
}
