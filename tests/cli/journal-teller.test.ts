import { afterEach, expect, it } from 'vitest';
import { farmConfigSchema } from '../../shared/config/farm.js';
import { journalTeller } from '../../src/cli/records/told/journal-teller.js';
import { speakNumbers } from '../../src/review/page/texts/amounts/amounts.js';
import '../helpers/own-surroundings.js';

const at = '2026-04-18T06:10:00Z';
const farm = (more: object) =>
  farmConfigSchema.parse({ farm: 'alder-row', benches: [{ id: 'south' }], ...more });

afterEach(() => speakNumbers('en-GB'));

it("the journal on a terminal writes numbers, weights and water as the farm's language and units do", async () => {
  const es = await journalTeller(farm({ language: 'es', units: { weight: 'lb' } }));
  const weighed = {
    at,
    kind: 'tray-event',
    event: { at, tray: 't1', event: 'weighed', grams: 2131.9 },
  } as const;
  expect(es.line(weighed)).toContain('t1 pesó 4 lb 11,2 oz');
  const watered = { at, kind: 'watering', watering: { at, tray: 't1', source: 'logged', ml: 1420 } } as const;
  expect(es.line(watered)).toContain('1,42 L');
  const en = await journalTeller(farm({}));
  expect(en.line(watered)).toContain('1.42 L');
});

it('a call that is repeated says so once', async () => {
  const { line } = await journalTeller(farm({}));
  const call = {
    at,
    kind: 'refill' as const,
    trays: ['t1'],
    again: true,
    sentence: 'Again: Bench south, water t1.',
  };
  expect(line({ at, kind: 'call', call })).toMatch(/Needs water: Again: Bench south/);
});
