import type { Command } from 'commander';
import { withTelling } from '../asking/reach-monitor.js';
import { type ManyFlags, tellOfTrays, withMany } from '../asking/tell-of-trays.js';
import { BadWord } from '../terminal/typed/bad-word.js';
import { traysNamed } from '../terminal/typed/named-trays.js';
import { readQuantity, splitAmount } from '../terminal/typed/quantities.js';
import { METRIC } from '../terminal/typed/typed-units.js';

interface WateredFlags extends ManyFlags {
  readonly bench?: string;
  readonly side?: string;
  readonly ml?: string;
  readonly flOz?: string;
}

const EXAMPLES = `
Examples:
  drybell watered celery-1                filled, the excess tipped out
  drybell watered celery-1 400 mL         what was poured and stayed; also 0.4 L, 14 fl oz
  drybell watered south --at 07:10        every tray of bench south
  drybell watered mini                    all minis; also 38mm, 1.5in
  drybell watered leek                    all leeks
  drybell watered celery-1 north 2in      several at once
  drybell watered --bench south --side mini     only the minis of bench south
A word is a tray, else a bench, else a crop, else a block size. More than five trays are named before anything is told.
Each telling is a pour of its own; the answer says when another was told a little before.`;

/** The flags that name their unit, and what a bare number of theirs is in. */
const AMOUNT_FLAGS = [
  { key: 'ml', flag: '--ml', volume: 'mL' },
  { key: 'flOz', flag: '--fl-oz', volume: 'fl oz' },
] as const;

/** The trays' words, and what stayed on each, mL; undefined when filled. */
function wordsAndAmount(
  typed: readonly string[],
  flags: WateredFlags,
): { readonly which: readonly string[]; readonly ml: number | undefined } {
  const { words, ml } = splitAmount(typed, METRIC);
  const flagged = AMOUNT_FLAGS.flatMap(({ key, flag, volume }) => {
    const text = flags[key];
    return text === undefined ? [] : [readQuantity('volume', flag, text, { ...METRIC, volume })];
  });
  const [amount, ...more] = [...(ml === undefined ? [] : [ml]), ...flagged];
  if (more.length > 0) throw new BadWord('Say the amount once: after the trays, or with --ml or --fl-oz.');
  return { which: words, ml: amount === undefined ? undefined : Math.round(amount) };
}

/** `drybell watered`. */
export function register(program: Command): void {
  withMany(
    withTelling(
      program
        .command('watered [which...]')
        .description('Trays, benches, crops or block sizes were watered; the amount may stand after them.'),
    ),
  )
    .option('--bench <id>', 'only trays of this bench')
    .option('--side <size>', 'only trays of this block size: mini, 38mm, 1.5in')
    .option('--ml <ml>', 'the amount in mL, for scripts; without one: filled, the excess tipped out')
    .option('--fl-oz <fl oz>', 'the same in fluid ounces')
    .addHelpText('after', EXAMPLES)
    .action(async (typed: string[], flags: WateredFlags) => {
      const { which, ml } = wordsAndAmount(typed, flags);
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
          const sets = filters.map((words) => new Set(traysNamed(words, all, farm.units, benches)));
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
