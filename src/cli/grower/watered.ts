import type { Command } from 'commander';
import { withTelling } from '../asking/reach-monitor.js';
import { type ManyFlags, tellOfTrays, withMany } from '../asking/tell-of-trays.js';
import { BadWord, readNumber } from '../terminal/typed/bad-word.js';
import { traysNamed } from '../terminal/typed/named-trays.js';
import { ML_PER_FL_OZ } from '../terminal/typed/quantities.js';

interface WateredFlags extends ManyFlags {
  readonly bench?: string;
  readonly side?: string;
  readonly ml?: string;
  readonly flOz?: string;
}

const EXAMPLES = `
Examples:
  drybell watered celery-1                filled, the excess tipped out
  drybell watered celery-1 --ml 400       what was poured and stayed
  drybell watered south --at 07:10        every tray of bench south
  drybell watered mini                    all minis; also 38, 1.5in
  drybell watered leek                    all leeks
  drybell watered celery-1 north 2in      several at once
  drybell watered --bench south --side mini     only the minis of bench south
A word is a tray, else a bench, else a crop, else a block size. More than five trays are named before anything is told.
Each telling is a pour of its own; the answer says when another was told a little before.`;

/** What stayed on each tray, mL; undefined when filled. */
function amountMl({ ml, flOz }: WateredFlags): number | undefined {
  if (ml !== undefined && flOz !== undefined) throw new BadWord('Say the amount once: --ml or --fl-oz.');
  if (flOz !== undefined) return Math.round(readNumber(flOz, '--fl-oz', '14') * ML_PER_FL_OZ);
  return ml === undefined ? undefined : readNumber(ml, '--ml', '400');
}

/** `drybell watered`. */
export function register(program: Command): void {
  withMany(
    withTelling(
      program.command('watered [which...]').description('Trays, benches, crops or block sizes were watered.'),
    ),
  )
    .option('--bench <id>', 'only trays of this bench')
    .option('--side <size>', 'only trays of this block size: mini, 38, 1.5in')
    .option('--ml <ml>', 'poured on each tray and stayed; absent: filled, the excess tipped out')
    .option('--fl-oz <fl oz>', 'the same in fluid ounces')
    .addHelpText('after', EXAMPLES)
    .action(async (which: string[], flags: WateredFlags) => {
      const ml = amountMl(flags);
      const filters = [which, [flags.bench ?? ''], [flags.side ?? '']].filter(
        (words) => words.join('') !== '',
      );
      if (filters.length === 0)
        throw new BadWord(
          'Which trays? Name trays, benches, crops or sizes; for all of the notice: drybell round done',
        );
      await tellOfTrays(
        flags,
        async (farm) => {
          const benches = farm.config?.benches.map(({ id }) => id);
          const all = await farm.trays();
          const sets = filters.map((words) => new Set(traysNamed(words, all, benches)));
          const meant = all.filter((tray) => sets.every((set) => set.has(tray)));
          if (meant.length === 0)
            throw new BadWord(`No tray is all of this: ${filters.flat().join(', ')}; nothing was changed.`);
          return meant;
        },
        (trays) => ({
          do: 'watered',
          ...(trays.length === 1 ? { tray: trays[0] } : { trays }),
          ...(ml === undefined ? {} : { ml }),
        }),
      );
    });
}
