import type { Command } from 'commander';
import { answerCommand } from '../asking/answer-command.js';
import { type TellFlags, withSender, withTelling } from '../asking/reach-monitor.js';

const NOTE_EXAMPLES = `
Examples:
  drybell note vents open from ten on
  drybell note aphids on the leeks --tray leek-1 --by anna`;
const UNDO_EXAMPLES = `
Every command answers with its ref; choose your own with --ref.

Example:
  drybell undo cli-3f2a9c1e-77b0`;

/** `drybell note` and `drybell undo`. */
export function register(program: Command): void {
  withTelling(
    program.command('note <words...>').description('Write something down, for a tray or for the day.'),
  )
    .option('--tray <id>', 'the tray it is about')
    .addHelpText('after', NOTE_EXAMPLES)
    .action((words: string[], flags: TellFlags & { readonly tray?: string }) =>
      answerCommand(flags, () => ({
        do: 'note',
        text: words.join(' '),
        ...(flags.tray === undefined ? {} : { tray: flags.tray }),
      })),
    );
  withSender(
    program.command('undo <command-ref>').description('Take back a command of the last day, by its ref.'),
  )
    .addHelpText('after', UNDO_EXAMPLES)
    .action((undo: string, flags: TellFlags) => answerCommand(flags, () => ({ do: 'undo', undo })));
}
