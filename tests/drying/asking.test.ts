import { describe, expect, it } from 'vitest';
import type { FarmModel } from '../../src/drying/model/farm-model.js';
import { createFarmModel } from '../../src/drying/whole/create-farm-model.js';
import { farmOf, HOUR_MS, play, START_MS, trayOf } from './model-farm.js';

const TRAYS = ['t1', 't2', 't3'] as const;

/** Four days of a farm whose probed tray teaches the others, asked by `ask` at every hour. */
function afterFourDays(ask?: (model: FarmModel, hour: number) => void): FarmModel {
  const model = createFarmModel(farmOf());
  for (const id of TRAYS) model.addTray(trayOf(id), START_MS);
  play(model, {
    hours: 96,
    pours: [
      { atH: 26, share: 1 },
      { atH: 51, share: 0.6 },
    ],
    atHour: (atMs) => ask?.(model, Math.round((atMs - START_MS) / HOUR_MS)),
  });
  return model;
}

describe('a question to the model', () => {
  it('changes nothing of what it answers later', () => {
    const silent = afterFourDays();
    const asked = afterFourDays((model, hour) => {
      if (hour % 5 === 0) model.explain('t2');
      if (hour % 3 === 0) for (const id of TRAYS) model.forecast(id);
      if (hour % 7 === 0) model.forecastIf('t3', { what: 'sunny' });
    });
    for (const id of TRAYS) {
      expect(asked.meanWater(id)).toBe(silent.meanWater(id));
      expect(asked.forecast(id)).toEqual(silent.forecast(id));
    }
    expect(asked.snapshot()).toEqual(silent.snapshot());
  });

  it('is answered from what all trays have taught, not from what this one last took part in', () => {
    const model = afterFourDays();
    model.recordLook('t1', 5, START_MS + 97 * HOUR_MS);
    const before = TRAYS.map((id) => model.meanWater(id));
    for (const id of TRAYS) model.forecast(id);
    expect(TRAYS.map((id) => model.meanWater(id))).toEqual(before);
  });
});
