import { createRoundCalendar } from '../../src/monitor/time/create-round-calendar.js';
import { createHouseForecaster } from '../benchmark/house-forecaster.js';
import { recordScenario } from '../benchmark/record-scenario.js';
import { playScenario, WARM_UP_DAYS } from '../benchmark/run-scenario.js';
import { RECIPES } from '../benchmark/scenario-recipes.js';
import {
  addNoticeScores,
  NOTICE_HEADER,
  type NoticeScores,
  noticeCells,
  scoreNotices,
} from '../benchmark/score-notices.js';
import { type Measurement, optionNumber, optionValue, table } from './measurement.js';

const DAY_MS = 86_400_000;

const help = `Round notices and calls against what happened: growers go by their own habits, whatever they are told.
Announced: listed as due or called at least an hour before the mean block is at the refill point, since its last watering.
False: the tray would have lasted more than 24 h and more than twice the time to the round after the next.

  --only KIND,...   these kinds only (default: all)
  --seed N          default 1
  --risks P,P,...   the trade-off: riskPct of the notices, one line each (default: the configuration's own)`;

export const measurement: Measurement = {
  help,
  run: async (options) => {
    const only = optionValue(options, '--only')?.split(',');
    const seed = optionNumber(options, '--seed', 1);
    const risks = optionValue(options, '--risks')?.split(',').map(Number) ?? [undefined];
    const rows: string[][] = [['', ...NOTICE_HEADER]];
    for (const riskPct of risks) {
      let sum: NoticeScores | undefined;
      for (const recipe of RECIPES.filter(({ kind }) => only?.includes(kind) ?? true)) {
        const scenario = recordScenario(recipe, seed);
        const { config } = scenario;
        const house = createHouseForecaster(
          riskPct === undefined ? config : { ...config, notices: { ...config.notices, riskPct } },
          scenario.startMs,
        );
        playScenario(scenario, [house], () => undefined);
        const scores = scoreNotices(house.takeFacts(), {
          trayIds: config.trays.map(({ id }) => id),
          history: scenario.truth.history,
          pours: scenario.truth.pours,
          rounds: createRoundCalendar(config.rounds, config.timeZone),
          fromMs: scenario.startMs + WARM_UP_DAYS * DAY_MS,
          toMs: scenario.endMs,
        });
        if (risks.length === 1) rows.push([recipe.kind, ...noticeCells(scores)]);
        sum = sum === undefined ? scores : addNoticeScores(sum, scores);
      }
      if (sum !== undefined)
        rows.push([riskPct === undefined ? 'all' : `risk ${riskPct} %`, ...noticeCells(sum)]);
    }
    console.log(table(rows));
    return undefined;
  },
};
