import { runClosedLoop } from '../benchmark/closed-loop.js';
import { RECIPES, type ScenarioRecipe } from '../benchmark/scenario-recipes.js';
import { NOTICE_HEADER, noticeCells } from '../benchmark/score-notices.js';
import { type Measurement, optionNumber, optionValue, table } from './measurement.js';

const help = `A farm of 40 trays whose grower waters what the notices list and comes when called.

  --trays N         default 40
  --days N          default 10, of which the first three are not scored
  --seeds N         default 1
  --only KIND,...   weather and farm of these kinds (default spring-mixed,hot-summer)`;

const WARM_UP_DAYS = 3;
/** Every fourth tray carries a probe. */
const PROBED_SHARE = 0.25;

function farmOf(recipe: ScenarioRecipe, trays: number, days: number): ScenarioRecipe {
  const sizes = [
    [19, 280],
    [38, 72],
    [51, 48],
    [19, 280],
  ] as const;
  return {
    ...recipe,
    days,
    trays: Array.from({ length: trays }, (_, index) => sizes[index % sizes.length] ?? [19, 280]),
    probed: Math.round(trays * PROBED_SHARE),
  };
}

export const measurement: Measurement = {
  help,
  run: async (options) => {
    const kinds = (optionValue(options, '--only') ?? 'spring-mixed,hot-summer').split(',');
    const trays = optionNumber(options, '--trays', 40);
    const days = optionNumber(options, '--days', 10);
    const rows = [
      ['', ...NOTICE_HEADER, 'interruptions/day', 'dried trays', 'waterings/tray-day', 'dry hours/tray-week'],
    ];
    for (const recipe of RECIPES.filter(({ kind }) => kinds.includes(kind)))
      for (let seed = 1; seed <= optionNumber(options, '--seeds', 1); seed++) {
        const result = runClosedLoop(farmOf(recipe, trays, days), seed, WARM_UP_DAYS);
        rows.push([
          `${recipe.kind} ${seed}`,
          ...noticeCells(result.notices),
          result.interruptionsPerDay.toFixed(2),
          String(result.driedTrays),
          result.wateringsPerTrayDay.toFixed(2),
          result.dryHoursPerTrayWeek.toFixed(2),
        ]);
      }
    console.log(table(rows));
    return undefined;
  },
};
