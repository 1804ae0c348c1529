import { describe, expect, it } from 'vitest';
import { recordScenario } from '../record-scenario.js';
import { RECIPES } from '../scenario-recipes.js';
import { groundsTable } from './ground-row.js';

describe('groundsTable()', () => {
  it('shows pinball as a share of each rule, and a dash for what a scorer does not tell', () => {
    const text = groundsTable([
      { ground: 'park', forecasts: 10, pinballH: 2, ruleH: { HABIT: 4, LINE: 1 }, inside: 0.83 },
    ]);
    expect(text.split('\n')[1]?.trim().split(/ {2,}/)).toEqual([
      'park',
      '10',
      '2.00',
      '0.50',
      '2.00',
      '-',
      '-',
      '83 %',
      '-',
      '-',
      '-',
      '-',
    ]);
  });
});

describe('a shifted scenario', () => {
  it('has media beyond what the bench draws, on the same seed the same', () => {
    const [first] = RECIPES;
    if (first === undefined) throw new RangeError('no recipes');
    const recipe = { ...first, days: 1, cadenceS: 3600, shifted: true };
    const { config } = recordScenario(recipe, 5);
    for (const tray of config.trays) {
      const capacity = tray.containerCapacityM3PerM3 ?? 0;
      expect(capacity < 0.55 || capacity > 0.68).toBe(true);
    }
    expect(recordScenario(recipe, 5).config).toEqual(config);
  });
});
