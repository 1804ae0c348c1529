import { createHouseForecaster } from '../benchmark/house-forecaster.js';
import { recordScenario } from '../benchmark/record-scenario.js';
import { playScenario } from '../benchmark/run-scenario.js';
import { RECIPES, type ScenarioRecipe } from '../benchmark/scenario-recipes.js';
import { type Measurement, optionNumber } from './measurement.js';

const help = `Readings per second through the whole pipeline on one core, hourly forecasts and decisions included, files left out.

  --days N       default 3
  --repeats N    default 3; the median is printed`;

const TARGETS = [
  { cadenceS: 10, perS: 50_000 },
  { cadenceS: 300, perS: 8000 },
] as const;

export const measurement: Measurement = {
  help,
  run: async (options) => {
    const days = optionNumber(options, '--days', 3);
    const repeats = optionNumber(options, '--repeats', 3);
    for (const { cadenceS, perS } of TARGETS) {
      const base = RECIPES.find(({ kind }) => kind === 'spring-mixed');
      if (base === undefined) return 1;
      const recipe: ScenarioRecipe = { ...base, cadenceS, days: cadenceS < 60 ? days : days * 5 };
      const scenario = recordScenario(recipe, 1);
      const speeds = Array.from({ length: repeats }, () => {
        const house = createHouseForecaster(scenario.config, scenario.startMs);
        const startedMs = performance.now();
        playScenario(scenario, [house], () => undefined);
        return (scenario.readings.count / (performance.now() - startedMs)) * 1000;
      }).sort((a, b) => a - b);
      const median = speeds[Math.floor(speeds.length / 2)] ?? 0;
      console.log(
        `every ${cadenceS} s: ${Math.round(median).toLocaleString('en')} readings/s over ${scenario.readings.count.toLocaleString('en')} readings, ${scenario.config.trays.length} trays (target ${perS.toLocaleString('en')})`,
      );
    }
    return undefined;
  },
};
