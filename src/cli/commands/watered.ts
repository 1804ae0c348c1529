import type { Command } from 'commander';
import { ML_PER_FL_OZ } from '../estimate/quantities.js';
import { answerCommand } from '../house/answer-command.js';
import { BadWord, readNumber } from '../house/bad-word.js';
import { readSideMm } from '../house/block-side.js';
import { type TellFlags, withTelling } from '../house/reach-monitor.js';

interface WateredFlags extends TellFlags {
  readonly bench?: string;
  readonly side?: string;
  readonly ml?: string;
  readonly flOz?: string;
}

const EXAMPLES = `
Examples:
  drybell watered celery-1                filled, the excess tipped out
  drybell watered celery-1 --ml 400       what was poured and stayed
  drybell watered --bench south --at 07:10
  drybell watered --side mini             all minis
The same pour told by two people within half an hour counts once.`;

/** What stayed on each tray, mL; undefined when filled. */
function amountMl({ ml, flOz }: WateredFlags): number | undefined {
  if (ml !== undefined && flOz !== undefined) throw new BadWord('Say the amount once: --ml or --fl-oz.');
  if (flOz !== undefined) return Math.round(readNumber(flOz, '--fl-oz', '14') * ML_PER_FL_OZ);
  return ml === undefined ? undefined : readNumber(ml, '--ml', '400');
}

/** `drybell watered`. */
export function register(program: Command): void {
  withTelling(program.command('watered [tray]').description('A tray, a bench or a block size was watered.'))
    .option('--bench <id>', 'every tray of this bench')
    .option('--side <size>', 'every tray of this block size: mini, 38, 1.5in')
    .option('--ml <ml>', 'poured on each tray and stayed; absent: filled, the excess tipped out')
    .option('--fl-oz <fl oz>', 'the same in fluid ounces')
    .addHelpText('after', EXAMPLES)
    .action((tray: string | undefined, flags: WateredFlags) =>
      answerCommand(flags, () => {
        const { bench, side } = flags;
        const ml = amountMl(flags);
        if (tray === undefined && bench === undefined && side === undefined)
          throw new BadWord(
            'Which trays? Name a tray, --bench or --side; for all of the notice: drybell round done',
          );
        return {
          do: 'watered',
          ...(tray === undefined ? {} : { tray }),
          ...(bench === undefined ? {} : { bench }),
          ...(side === undefined ? {} : { blockSideMm: readSideMm(side) }),
          ...(ml === undefined ? {} : { ml }),
        };
      }),
    );
}
