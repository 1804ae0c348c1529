import { describe, expect, it } from 'vitest';
import { askedSpan, askedTimeMs } from '../../src/cli/terminal/typed/asked-times.js';

const instant = (atMs: number) => new Date(atMs).toISOString();

describe('askedTimeMs()', () => {
  it("begins a day at the farm's midnight, before and after the clocks change", () => {
    const berlin = (text: string) => instant(askedTimeMs('--since', text, 'Europe/Berlin'));
    expect(berlin('2026-03-29')).toBe('2026-03-28T23:00:00.000Z');
    expect(berlin('2026-03-30')).toBe('2026-03-29T22:00:00.000Z');
    expect(berlin('2026-10-26')).toBe('2026-10-25T23:00:00.000Z');
  });

  it('takes an instant as it is', () => {
    expect(instant(askedTimeMs('--since', '2026-04-01T07:00:00Z', 'Europe/Berlin'))).toBe(
      '2026-04-01T07:00:00.000Z',
    );
  });

  it.each(['spring', '2026', '2026-02-30', '12:00', ''])('refuses %j', (text) => {
    expect(() => askedTimeMs('--since', text, 'UTC')).toThrow(/expected a day such as/);
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
