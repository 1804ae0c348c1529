import { describe, expect, it } from 'vitest';
import { farmConfigSchema } from '../../../shared/config/farm.js';
import { recordScenario } from '../record-scenario.js';
import { RECIPES } from '../scenario-recipes.js';
import { FarmNotes } from '../yardsticks/farm-notes.js';
import { hour } from '../yardsticks/rules.js';
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

describe('the rule HOUR', () => {
  const HOUR_MS = 3_600_000;
  const DAYS = 8;
  const config = farmConfigSchema.parse({
    farm: 'alder-row',
    timeZone: 'UTC',
    rounds: ['07:00', '18:00'],
    benches: [{ id: 'south' }],
    trays: [
      {
        id: 't1',
        bench: 'south',
        blockSideMm: 38,
        blockCount: 72,
        containerCapacityM3PerM3: 0.62,
        refillPointM3PerM3: 0.35,
      },
    ],
    probes: [
      {
        id: 'moist-t1',
        kind: 'block-moisture',
        tray: 't1',
        calibration: [
          { volts: 2.3, waterContentM3PerM3: 0.15 },
          { volts: 1.3, waterContentM3PerM3: 0.65 },
        ],
      },
    ],
  });

  it('waits for the hours of the day at which the tray has fallen', () => {
    const startMs = Date.UTC(2026, 3, 18);
    const notes = new FarmNotes(config, startMs);
    let water = 0.6;
    for (let hours = 1; hours <= DAYS * 24; hours++) {
      const atMs = startMs + hours * HOUR_MS;
      // falls between noon and six only, by 0.01 an hour
      if (hours % 24 > 12 && hours % 24 <= 18) water -= 0.01;
      notes.reading('moist-t1', atMs, 2.3 - 2 * (water - 0.15));
      notes.advance(atMs);
    }
    const tray = notes.trays.get('t1');
    if (tray === undefined) throw new RangeError('no tray');
    // at midnight three quarters of an hour's fall lie between the tray and its refill point
    const toGoH = hour(notes, { ...tray, refill: (tray.level ?? 0) - 0.0075 }, startMs + DAYS * 24 * HOUR_MS);
    expect(toGoH).toBeGreaterThan(10);
    expect(toGoH).toBeLessThan(14);
  });
});
