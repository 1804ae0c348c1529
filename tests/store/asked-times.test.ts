import { describe, expect, it } from 'vitest';
import { askedSpan, askedTimeMs } from '../../src/cli/terminal/typed/asked-times.js';

const NOW_MS = Date.parse('2026-04-11T10:00:00Z');
const instant = (atMs: number) => new Date(atMs).toISOString();

describe('askedTimeMs()', () => {
  it("begins a day at the farm's midnight, before and after the clocks change", () => {
    const berlin = (text: string) => instant(askedTimeMs('--since', text, 'Europe/Berlin', NOW_MS));
    expect(berlin('2026-03-29')).toBe('2026-03-28T23:00:00.000Z');
    expect(berlin('2026-03-30')).toBe('2026-03-29T22:00:00.000Z');
    expect(berlin('2026-10-26')).toBe('2026-10-25T23:00:00.000Z');
  });

  it('takes an instant as it is', () => {
    expect(instant(askedTimeMs('--since', '2026-04-01T07:00:00Z', 'Europe/Berlin', NOW_MS))).toBe(
      '2026-04-01T07:00:00.000Z',
    );
  });

  it.each([
    ['7d', '2026-04-04T10:00:00.000Z'],
    ['yesterday', '2026-04-10T00:00:00.000Z'],
    ['today', '2026-04-11T00:00:00.000Z'],
    ['Mon', '2026-04-06T00:00:00.000Z'],
    ['1 Apr', '2026-04-01T00:00:00.000Z'],
    ['1 mayo 2025', '2025-05-01T00:00:00.000Z'],
    ['12 Apr', '2025-04-12T00:00:00.000Z'],
  ])('reads %j as people say it', (text, at) => {
    expect(instant(askedTimeMs('--since', text, 'UTC', NOW_MS))).toBe(at);
  });

  it.each(['tomorrow', 'spring', '2026', '2026-02-30', '12:00', ''])('refuses %j', (text) => {
    expect(() => askedTimeMs('--since', text, 'UTC', NOW_MS)).toThrow(/expected a day such as/);
  });
});

describe('askedSpan()', () => {
  it('reaches back the usual days from now', () => {
    expect(askedSpan({}, 'UTC', Date.parse('2026-04-11T00:00:00Z'), 10)).toEqual({
      fromMs: Date.parse('2026-04-01T00:00:00Z'),
      toMs: Date.parse('2026-04-11T00:00:00Z'),
    });
  });
});
