import { createHouseForecaster } from '../benchmark/house-forecaster.js';
import { recordScenario } from '../benchmark/record-scenario.js';
import { runScenario } from '../benchmark/run-scenario.js';
import type { Scenario } from '../benchmark/scenario.js';
import { RECIPES, type ScenarioRecipe } from '../benchmark/scenario-recipes.js';
import { coverage, meanPinballH } from '../benchmark/score.js';
import type { ShortScores } from './short-scores.js';

/** Few trays and days, and between them every way in which water, words and probes come in. */
const KINDS: readonly { readonly like: string; readonly change: Partial<ScenarioRecipe> }[] = [
  {
    like: 'hot-summer',
    change: { grower: { fills: 0.5, partialShare: [0.3, 0.8], logs: 0.6, forgets: 0.2, looks: 0.2 } },
  },
  {
    like: 'moved-and-covered',
    change: { calibrated: false, faultyProbes: true, light: false, grower: { looks: 0.25, logs: 0.8 } },
  },
  { like: 'partial-pours', change: {} },
];
const SEED = 311;
/** Judgement: a change is scored in a few seconds. */
const SMALL: Partial<ScenarioRecipe> = {
  days: 7,
  cadenceS: 1800,
  trays: [
    [19, 280],
    [38, 72],
    [51, 48],
    [19, 280],
    [38, 72],
  ],
  probed: 3,
};

/** What the farms live through, recorded once for all mutants. @public a worker loads it */
export function recordShort(): readonly Scenario[] {
  return KINDS.map(({ like, change }) => {
    const recipe = RECIPES.find(({ kind }) => kind === like);
    if (recipe === undefined) throw new RangeError(`no scenario kind ${like}`);
    return recordScenario({ ...recipe, ...SMALL, ...change }, SEED);
  });
}

/** What this house makes of it. @public a worker loads it */
export function scoreShort(scenarios: readonly Scenario[]): readonly ShortScores[] {
  return scenarios.map((scenario) => {
    const run = runScenario(scenario, [createHouseForecaster(scenario.config, scenario.startMs)]);
    const [[, rows] = ['', []]] = run.byForecaster;
    const [[, notices] = ['', undefined]] = run.noticesByDesk;
    return {
      pinballH: meanPinballH(rows),
      insideShare: coverage(rows),
      missed: (notices?.dryOuts ?? 0) - (notices?.announced ?? 0),
      falseOnes: notices?.falseOnes ?? 0,
      listings: notices?.listings ?? 0,
      alarms: notices?.alarms ?? 0,
    };
  });
}
