import { modelSpec } from '../../src/cli/running/house-parts/farm-parts.js';
import { createFarmModel } from '../../src/drying/whole/create-farm-model.js';
import { tellModel } from '../../src/monitor/day/core/tell-model.js';
import { startEvents } from '../../src/monitor/start/start-events.js';
import { recordScenario } from '../benchmark/record-scenario.js';
import { RECIPES, type ScenarioRecipe } from '../benchmark/scenario-recipes.js';
import { type Measurement, optionNumber } from './measurement.js';

const help = `Cost of one tray's forecast, 120 h ahead, after three days of readings on a farm of some trays.

  --trays N     default 8
  --repeats N   hours forecast, default 48`;

const TARGET_MS = 1.5;
const HOUR_MS = 3_600_000;

export const measurement: Measurement = {
  help,
  run: async (options) => {
    const trays = optionNumber(options, '--trays', 8);
    const [first] = RECIPES.filter(({ kind }) => kind === 'spring-mixed');
    if (first === undefined) return 1;
    const recipe: ScenarioRecipe = {
      ...first,
      days: 3,
      trays: Array.from(
        { length: trays },
        (_, index) => first.trays[index % first.trays.length] ?? [19, 280],
      ),
    };
    const { config, startMs, endMs, readings } = recordScenario(recipe, 1);
    const model = createFarmModel(modelSpec(config));
    for (const event of startEvents(config, startMs)) tellModel(model, event, startMs);
    for (let i = 0; i < readings.count; i++)
      model.observe(
        readings.probeIds[readings.probe[i] ?? 0] ?? '',
        readings.atMs[i] ?? 0,
        readings.value[i],
        1,
      );
    let members = 0;
    const times: number[] = [];
    // the model moves on between forecasts, so that nothing can be remembered from the last one
    for (let repeat = 1; repeat <= optionNumber(options, '--repeats', 48); repeat++) {
      model.advanceTo(endMs + repeat * HOUR_MS);
      for (const { id } of config.trays) {
        const startedMs = performance.now();
        members = model.forecast(id).meanBlockHours.length;
        times.push(performance.now() - startedMs);
      }
    }
    const ms = times.sort((a, b) => a - b)[Math.floor(times.length / 2)] ?? Number.NaN;
    console.log(
      `one tray's forecast: ${ms.toFixed(3)} ms median, ${members} members, ${trays} trays on the farm (target under ${TARGET_MS} ms)`,
    );
    return undefined;
  },
};
