import { createHouseForecaster } from '../house-forecaster.js';
import { recordScenario } from '../record-scenario.js';
import { runScenario } from '../run-scenario.js';
import type { ScenarioRecipe } from '../scenario-recipes.js';
import {
  coverage,
  meanPinballH,
  medianRelativeBias,
  medianRelativeError,
  type ScoredForecast,
} from '../score.js';
import { type TrayNoticeScores, tallyNotices } from '../score-notices.js';
import { createNapkinForecaster } from '../yardsticks/napkin-forecaster.js';
import { GROUND_RULES, type GroundRow } from './ground-row.js';

/** House and rules on the virtual bench, one seed of each kind; what is announced is what the house's own desk says. */
export function ownRow(ground: string, recipes: readonly ScenarioRecipe[], seed: number): GroundRow {
  const scores = new Map<string, ScoredForecast[]>();
  const notices = new Map<string, TrayNoticeScores>();
  for (const recipe of recipes) {
    const scenario = recordScenario(recipe, seed);
    const result = runScenario(scenario, [
      createHouseForecaster(scenario.config, scenario.startMs),
      ...GROUND_RULES.map((name) => createNapkinForecaster(name, scenario.config, scenario.startMs)),
    ]);
    for (const [name, rows] of result.byForecaster) scores.set(name, [...(scores.get(name) ?? []), ...rows]);
    tallyNotices(notices, result.noticesByDesk);
  }
  const house = scores.get('DRYBELL') ?? [];
  const told = notices.get('DRYBELL');
  return {
    ground,
    forecasts: house.length,
    pinballH: meanPinballH(house),
    ruleH: Object.fromEntries(GROUND_RULES.map((name) => [name, meanPinballH(scores.get(name) ?? [])])),
    inside: coverage(house),
    medianError: medianRelativeError(house),
    medianBias: medianRelativeBias(house),
    caught: told === undefined ? undefined : told.announced / told.dryOuts,
    falsePerTrayWeek: told === undefined ? undefined : told.falseOnes / told.trayWeeks,
  };
}
