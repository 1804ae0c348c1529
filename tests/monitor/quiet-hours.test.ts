import { describe, expect, it } from 'vitest';
import { createQuietHours } from '../../src/monitor/time/quiet-hours.js';

const at = (text: string): number => Date.parse(text);
const iso = (atMs: number | undefined): string | undefined =>
  atMs === undefined ? undefined : new Date(atMs).toISOString();

describe('createQuietHours()', () => {
  it('never holds where none are configured', () => {
    expect(createQuietHours(undefined, 'UTC')(at('2026-04-18T02:00:00Z'))).toBeUndefined();
  });

  it('holds over midnight on the farm clock, from the first instant to just before the last', () => {
    const until = createQuietHours({ from: '22:00', to: '05:30' }, 'Europe/Berlin');
    expect(until(at('2026-04-18T19:59:59Z'))).toBeUndefined();
    for (const inside of ['2026-04-18T20:00:00Z', '2026-04-18T23:00:00Z', '2026-04-19T03:29:59Z'])
      expect(iso(until(at(inside)))).toBe('2026-04-19T03:30:00.000Z');
    expect(until(at('2026-04-19T03:30:00Z'))).toBeUndefined();
  });

  it('holds within a day when "to" comes after "from"', () => {
    const until = createQuietHours({ from: '12:00', to: '14:00' }, 'UTC');
    expect(iso(until(at('2026-04-18T13:00:00Z')))).toBe('2026-04-18T14:00:00.000Z');
    expect(until(at('2026-04-18T02:00:00Z'))).toBeUndefined();
  });

  it('goes by the weekday on which they begin; a weekday left out has none', () => {
    const until = createQuietHours({ sat: { from: '20:00', to: '09:00' } }, 'UTC');
    expect(iso(until(at('2026-04-19T08:00:00Z'))), 'Sunday morning').toBe('2026-04-19T09:00:00.000Z');
    expect(until(at('2026-04-19T21:00:00Z')), 'Sunday evening').toBeUndefined();
    expect(until(at('2026-04-18T08:00:00Z')), 'Saturday morning').toBeUndefined();
  });

  it('ends by the clock in the night when it changes', () => {
    const until = createQuietHours({ from: '22:00', to: '05:00' }, 'Europe/Berlin');
    expect(iso(until(at('2026-03-29T00:30:00Z'))), 'an hour shorter').toBe('2026-03-29T03:00:00.000Z');
    expect(iso(until(at('2026-10-25T00:30:00Z'))), 'an hour longer').toBe('2026-10-25T04:00:00.000Z');
  });

  it('lets the later end count where two overlap', () => {
    const until = createQuietHours(
      { fri: { from: '20:00', to: '10:00' }, sat: { from: '06:00', to: '08:00' } },
      'UTC',
    );
    expect(iso(until(at('2026-04-18T07:00:00Z')))).toBe('2026-04-18T10:00:00.000Z');
  });
});
