import { describe, expect, it } from 'vitest';
import { createRoundCalendar, createUtcOffset } from '../../src/monitor/time/create-round-calendar.js';

const iso = (atMs: number) => new Date(atMs).toISOString();

describe('round calendar', () => {
  const calendar = createRoundCalendar(['07:00', '18:00'], 'Europe/Berlin');

  it('after() gives the coming rounds on the farm clock, strictly later', () => {
    const at = Date.parse('2026-04-18T05:00:00Z');
    expect(calendar.after(at, 3).map(iso)).toEqual([
      '2026-04-18T16:00:00.000Z',
      '2026-04-19T05:00:00.000Z',
      '2026-04-19T16:00:00.000Z',
    ]);
  });

  it('lastBefore() counts a round at the instant itself', () => {
    const at = Date.parse('2026-04-18T05:00:00Z');
    expect(calendar.lastBefore(at)).toBe(at);
    expect(calendar.lastBefore(at - 1)).toBe(Date.parse('2026-04-17T16:00:00Z'));
  });

  it('keeps the clock on the days it changes (EU rule: last Sunday of March and October)', () => {
    expect(calendar.after(Date.parse('2026-03-28T20:00:00Z'), 1).map(iso)).toEqual([
      '2026-03-29T05:00:00.000Z',
    ]);
    expect(calendar.after(Date.parse('2026-10-24T20:00:00Z'), 1).map(iso)).toEqual([
      '2026-10-25T06:00:00.000Z',
    ]);
  });

  it('a weekday without rounds has none', () => {
    const weekly = createRoundCalendar({ mon: ['06:30'], wed: ['06:30', '19:00'] }, 'UTC');
    expect(weekly.after(Date.parse('2026-04-20T06:30:00Z'), 2).map(iso)).toEqual([
      '2026-04-22T06:30:00.000Z',
      '2026-04-22T19:00:00.000Z',
    ]);
  });

  it('a farm without any round gets an empty list and no last round', () => {
    const none = createRoundCalendar({}, 'UTC');
    expect(none.after(0, 2)).toEqual([]);
    expect(none.lastBefore(0)).toBeUndefined();
  });
});

describe('createUtcOffset()', () => {
  it('is 60 minutes in winter and 120 in summer for Europe/Berlin', () => {
    const offset = createUtcOffset('Europe/Berlin');
    expect(offset(Date.parse('2026-01-10T12:00:00Z'))).toBe(60);
    expect(offset(Date.parse('2026-07-10T12:00:00Z'))).toBe(120);
  });
});
