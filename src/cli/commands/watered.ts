import type { Command } from 'commander';
import { answerCommand } from '../house/answer-command.js';
import { BadWord, readNumber } from '../house/bad-word.js';
import { type TellFlags, withTelling } from '../house/reach-monitor.js';

interface WateredFlags extends TellFlags {
  readonly bench?: string;
  readonly side?: string;
  readonly ml?: string;
}

const EXAMPLES = `
Examples:
  drybell watered t1              filled, the excess tipped out
  drybell watered t1 --ml 400     what was poured and stayed
  drybell watered --bench south --at 07:10
  drybell watered --side 19       all minis
The same pour told by two people within half an hour counts once.`;

const MINI_MM = 19;

/** `drybell watered`. */
export function register(program: Command): void {
  withTelling(program.command('watered [tray]').description('A tray, a bench or a block size was watered.'))
    .option('--bench <id>', 'every tray of this bench')
    .option('--side <size>', 'every tray of this block size: mini or mm')
    .option('--ml <ml>', 'poured on each tray and stayed; absent: filled, the excess tipped out')
    .addHelpText('after', EXAMPLES)
    .action((tray: string | undefined, flags: WateredFlags) =>
      answerCommand(flags, () => {
        const { bench, side, ml } = flags;
        if (tray === undefined && bench === undefined && side === undefined)
          throw new BadWord(
            'Which trays? Name a tray, --bench or --side; for all of the notice: drybell round done',
          );
        return {
          do: 'watered',
          ...(tray === undefined ? {} : { tray }),
          ...(bench === undefined ? {} : { bench }),
          ...(side === undefined
            ? {}
            : { blockSideMm: side === 'mini' ? MINI_MM : readNumber(side, '--side', '"mini" or 38') }),
          ...(ml === undefined ? {} : { ml: readNumber(ml, '--ml', '400') }),
        };
      }),
    );
}
