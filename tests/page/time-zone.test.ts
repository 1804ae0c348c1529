import { describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import { farmCalendar } from '../../src/review/server/views/farm-calendar.js';
import { waterAnswer } from '../../src/review/server/views/water-answer.js';
import { createMemoryStore } from '../helpers/memory-store.js';

const HOUR_MS = 3_600_000;

describe('a time zone that changes in the middle', () => {
  it.each([
    ['2026-03-28T12:00:00Z', '2026-03-30T12:00:00Z', ['2026-03-28', '2026-03-29', '2026-03-30']],
    ['2026-10-24T12:00:00Z', '2026-10-26T12:00:00Z', ['2026-10-24', '2026-10-25', '2026-10-26']],
  ])('summer time: every day from %s stands once', (from, to, days) => {
    // Directive 2000/84/EC: last Sundays of March and October, at 01:00 UTC.
    expect(farmCalendar('Europe/Berlin').days(Date.parse(from), Date.parse(to))).toEqual(days);
  });

  it('summer time: the day with 25 hours takes what was poured in both of its hours from two to three', () => {
    const { dayOf } = farmCalendar('Europe/Berlin');
    const first = Date.parse('2026-10-25T00:30:00Z');
    expect([dayOf(first), dayOf(first + HOUR_MS)]).toEqual(['2026-10-25', '2026-10-25']);
    expect(dayOf(Date.parse('2026-10-25T22:59:00Z'))).toBe('2026-10-25');
    expect(dayOf(Date.parse('2026-10-25T23:00:00Z'))).toBe('2026-10-26');
  });

  it("another zone in the configuration moves waterings to that zone's days; none is lost or doubled", async () => {
    const store = createMemoryStore();
    const fromMs = Date.parse('2026-04-10T00:00:00Z');
    const hours = Array.from({ length: 96 }, (_, hour) => fromMs + hour * HOUR_MS);
    await store.keep(
      hours.map((atMs) => ({
        kind: 'watering',
        watering: { at: toInstant(atMs), tray: 't1', source: 'logged', ml: 10 },
      })),
    );
    const span = { fromMs, toMs: fromMs + 96 * HOUR_MS };
    for (const [zone, firstDay, firstDayMl] of [
      ['UTC', '2026-04-10', 240],
      ['Asia/Kathmandu', '2026-04-10', 190], // UTC+05:45: the hours from 00:00 to 18:00 UTC
      ['America/St_Johns', '2026-04-09', 30], // UTC-02:30 in summer: 00:00, 01:00 and 02:00 UTC
    ] as const) {
      const { uses, days } = await waterAnswer(store, span, farmCalendar(zone));
      expect([zone, uses[0]?.day, uses[0]?.ml]).toEqual([zone, firstDay, firstDayMl]);
      expect(uses.reduce((sum, { ml }) => sum + ml, 0)).toBe(960);
      expect(days).toEqual(uses.map(({ day }) => day));
    }
  });
});
