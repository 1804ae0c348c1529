import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Forecaster } from '../benchmark/forecaster.js';
import { createHouseForecaster } from '../benchmark/house-forecaster.js';
import { createOwnPhysics } from '../benchmark/own-physics.js';
import { realRecordingTable } from '../benchmark/real-recording.js';
import { recordScenario } from '../benchmark/record-scenario.js';
import { reportTable, targetLines } from '../benchmark/report.js';
import { runScenario } from '../benchmark/run-scenario.js';
import type { Scenario } from '../benchmark/scenario.js';
import { RECIPES } from '../benchmark/scenario-recipes.js';
import type { ScoredForecast } from '../benchmark/score.js';
import { type TrayNoticeScores, tallyNotices } from '../benchmark/score-notices.js';
import { writeScenario } from '../benchmark/write-scenario.js';
import { createNapkinForecaster } from '../benchmark/yardsticks/napkin-forecaster.js';
import { type Measurement, optionNumber, optionValue } from './measurement.js';

const help = `Forecasts of the model against four rules on a napkin, on randomised scenarios of the virtual bench.

  --scenarios N     the first N kinds only (default: all ${RECIPES.length})
  --only KIND,...   these kinds only
  --seeds N         N seeds per kind (default 1)
  --first-seed N    the first of them (default 1)
  --references      also two references: the model with the true weather handed in, and the virtual bench's own
                    physics from its own true state with yesterday's air again (what the weather alone costs)
  --real FOLDER     after it the same on real recordings: every folder therein with config.json and readings.csv, as
                    drybell convert and a text editor make them; with --scenarios 0 on them alone
  --write FOLDER    also writes each scenario as files for \`drybell replay\`, its truth beside them`;

function forecastersFor(scenario: Scenario): Forecaster[] {
  const napkins = (['HABIT', 'LINE', 'VPD', 'ANALOG'] as const).map((name) =>
    createNapkinForecaster(name, scenario.config, scenario.startMs),
  );
  return [createHouseForecaster(scenario.config, scenario.startMs), ...napkins];
}

/** Every recording in a folder; 2 and a clear word when there is none. */
async function onRealRecordings(folder: string): Promise<number | undefined> {
  const recordings = readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map(({ name }) => name)
    .filter((name) => ['config.json', 'readings.csv'].every((file) => existsSync(join(folder, name, file))))
    .sort();
  if (recordings.length === 0) {
    console.error(
      `${folder} holds no folder with config.json and readings.csv; make them with drybell convert.`,
    );
    return 2;
  }
  for (const name of recordings) {
    const at = join(folder, name);
    console.log(`\nreal recording ${name}`);
    console.log(await realRecordingTable(join(at, 'config.json'), join(at, 'readings.csv')));
  }
  return undefined;
}

export const measurement: Measurement = {
  help,
  run: async (options) => {
    const only = optionValue(options, '--only')?.split(',');
    const recipes = RECIPES.filter(({ kind }) => only?.includes(kind) ?? true).slice(
      0,
      optionNumber(options, '--scenarios', RECIPES.length),
    );
    const seeds = optionNumber(options, '--seeds', 1);
    const firstSeed = optionNumber(options, '--first-seed', 1);
    const references = options.includes('--references');
    const folder = optionValue(options, '--write');
    const real = optionValue(options, '--real');
    const scores = new Map<string, ScoredForecast[]>();
    const byPolicy = new Map<string, TrayNoticeScores>();
    const byDesk = new Map<string, TrayNoticeScores>();
    for (let seed = firstSeed; seed < firstSeed + seeds; seed++)
      for (const recipe of recipes) {
        const scenario = recordScenario(recipe, seed, references);
        if (folder !== undefined) writeScenario(scenario, join(folder, `${recipe.kind}-${seed}`));
        const result = runScenario(scenario, [
          ...forecastersFor(scenario),
          ...(references
            ? [
                createHouseForecaster(scenario.config, scenario.startMs, scenario.truth.history.hourOfAir),
                createOwnPhysics(scenario),
              ]
            : []),
        ]);
        for (const [name, rows] of result.byForecaster)
          scores.set(name, [...(scores.get(name) ?? []), ...rows]);
        tallyNotices(byPolicy, result.noticesByForecaster);
        tallyNotices(byDesk, result.noticesByDesk);
      }
    if (scores.size > 0) {
      console.log(reportTable(scores, { byPolicy, byDesk }));
      console.log(`\n${targetLines(scores, { byPolicy, byDesk }, 'DRYBELL').join('\n')}`);
    }
    if (real !== undefined) return onRealRecordings(real);
    return undefined;
  },
};
