import { expect, it } from 'vitest';
import type { Watering } from '../../shared/facts/watering.js';
import { poursOnce, wateringsOf } from '../../src/monitor/ports/pours-once.js';
import { farmCalendar } from '../../src/review/server/views/farm-calendar.js';
import { journalAnswer } from '../../src/review/server/views/journal-answer.js';
import { waterAnswer } from '../../src/review/server/views/water-answer.js';
import { english } from '../helpers/in-words.js';
import { createMemoryStore } from '../helpers/memory-store.js';

const at = '2026-05-06T16:20:00Z';
const poured = (more: Partial<Watering> = {}) => ({
  kind: 'watering' as const,
  watering: { at, tray: 't1', source: 'detected' as const, ...more },
});
const known = poured({ ml: 918, takenUpMl: 918, amends: true });
const span = { fromMs: Date.parse('2026-05-06T00:00Z'), toMs: Date.parse('2026-05-07T00:00Z') };

it('poursOnce() makes one of a pour that is known better later, and leaves the rest in order', () => {
  const note = { kind: 'note', text: 'heater off' } as const;
  expect(poursOnce([poured({ by: 'anna' }), note, known])).toEqual([
    poured({ by: 'anna', ml: 918, takenUpMl: 918 }),
    note,
  ]);
  expect(poursOnce([known])).toEqual([known]);
  expect(wateringsOf([poured(), { ...known, undone: true }])).toEqual([]);
  expect(wateringsOf([poured(), poured({ tray: 't2' }), known])).toHaveLength(2);
});

it('a pour that its probe measured afterwards is counted and told once', async () => {
  const store = createMemoryStore();
  await store.keep([poured(), known, poured({ source: 'logged', ml: 400, at: '2026-05-06T06:00:00Z' })]);
  const { uses } = await waterAnswer(store, span, farmCalendar('UTC'));
  expect(uses).toMatchObject([
    { tray: 't1', ml: 1318, wateringCount: 2, unknownCount: 0, workedOutCount: 0 },
  ]);
  const { entries } = await journalAnswer(store, span, english, ['watering'], 10);
  expect(entries).toMatchObject([{ watering: { takenUpMl: 918 } }, { watering: { ml: 400 } }]);
  expect(entries).toHaveLength(2);
});
