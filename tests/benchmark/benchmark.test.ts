import { describe, expect, it } from 'vitest';
import { createHouseForecaster } from './house-forecaster.js';
import { recordScenario } from './record-scenario.js';
import { runScenario } from './run-scenario.js';
import { RECIPES, type ScenarioRecipe } from './scenario-recipes.js';
import { coverage, meanPinballH, medianRelativeError, pinball, type ScoredForecast } from './score.js';
import { createNapkinForecaster } from './yardsticks/napkin-forecaster.js';

function recipe(kind: string, change: Partial<ScenarioRecipe> = {}): ScenarioRecipe {
  const found = RECIPES.find((one) => one.kind === kind);
  if (found === undefined) throw new RangeError(`no scenario kind ${kind}`);
  return { ...found, ...change };
}

/** A few seconds of work; a busy machine may take far longer. */
const SLOW_MACHINE_MS = 180_000;

describe('scores', () => {
  it("gives sktime's documented pinball losses", () => {
    // sktime documentation of PinballLoss: y 3,-.5,2,7,2 and three quantile columns
    const y = [3, -0.5, 2, 7, 2];
    const columns: readonly [number, readonly number[], number][] = [
      [0.05, [1.25, 0, 1, 4, 0.625], 0.16625],
      [0.5, [2.5, 0, 2, 8, 1.25], 0.275],
      [0.95, [3.75, 0, 3, 12, 1.875], 0.09625],
    ];
    for (const [q, forecast, loss] of columns) {
      const mean = y.reduce((sum, truth, i) => sum + pinball(q, truth, forecast[i] ?? 0), 0) / y.length;
      expect(mean).toBeCloseTo(loss, 6);
    }
  });
});

describe('scenarios', () => {
  it('are the same for the same seed and differ between seeds', () => {
    const short = recipe('spring-mixed', { days: 2 });
    const once = recordScenario(short, 4);
    const again = recordScenario(short, 4);
    const other = recordScenario(short, 5);
    expect(again.readings.value.slice(0, again.readings.count)).toEqual(
      once.readings.value.slice(0, once.readings.count),
    );
    expect(again.log).toEqual(once.log);
    expect(other.config.trays).not.toEqual(once.config.trays);
  });

  it(
    'are of at least twelve kinds, each with dry-downs to judge',
    () => {
      expect(RECIPES.length).toBeGreaterThanOrEqual(12);
      for (const kind of RECIPES.map((one) => one.kind)) {
        const { config, truth, startMs } = recordScenario(
          { ...recipe(kind, { days: 3, cadenceS: 3600 }), trays: recipe(kind).trays.slice(0, 3), probed: 1 },
          2,
        );
        const hours = config.trays.map(
          ({ id }) => truth.history.dryOut(id, startMs + 2 * 86_400_000).meanBlockH,
        );
        expect(hours.some((one) => one !== undefined && one > 1 && one < 72)).toBe(true);
      }
    },
    SLOW_MACHINE_MS,
  );
});

describe('the model against the napkin', () => {
  it(
    'beats all four rules on a seeded slice, with widths that mean something',
    () => {
      const scores = new Map<string, ScoredForecast[]>();
      const slice = [recipe('spring-mixed', { days: 12, cadenceS: 900 })];
      for (const one of slice) {
        const scenario = recordScenario(one, 7);
        const forecasters = [
          createHouseForecaster(scenario.config, scenario.startMs),
          ...(['HABIT', 'LINE', 'VPD', 'ANALOG'] as const).map((name) =>
            createNapkinForecaster(name, scenario.config, scenario.startMs),
          ),
        ];
        for (const [name, rows] of runScenario(scenario, forecasters).byForecaster)
          scores.set(name, [...(scores.get(name) ?? []), ...rows]);
      }
      const model = scores.get('DRYBELL') ?? [];
      expect(model.length).toBeGreaterThan(500);
      for (const [name, rows] of scores)
        if (name !== 'DRYBELL') expect(meanPinballH(model), name).toBeLessThan(meanPinballH(rows));
      expect(coverage(model)).toBeGreaterThan(0.5);
      expect(medianRelativeError(model)).toBeLessThan(0.5);
    },
    SLOW_MACHINE_MS,
  );
});
