import { describe, expect, it } from 'vitest';
import { parseInstantMs } from '../../src/monitor/time/instant.js';

describe('parseInstantMs()', () => {
  // RFC 3339 section 5.8, its own examples.
  it.each([
    ['1985-04-12T23:20:50.52Z', 482_196_050_520],
    ['1996-12-19T16:39:57-08:00', 851_042_397_000],
    ['1937-01-01T12:00:27.87+00:20', -1_041_337_172_130],
  ])('reads %s', (text, atMs) => {
    expect(parseInstantMs(text)).toBe(atMs);
  });

  it('takes a leap second as the last moment before it', () => {
    expect(parseInstantMs('1990-12-31T23:59:60Z')).toBe(Date.parse('1990-12-31T23:59:59.999Z'));
    expect(parseInstantMs('1990-12-31T15:59:60-08:00')).toBe(Date.parse('1990-12-31T23:59:59.999Z'));
  });

  it.each(['', 'yesterday', '2026-04-18', '2026-04-18T07:00:00', '2026-13-01T00:00:00Z', '1700000000'])(
    'refuses %j',
    (text) => {
      expect(parseInstantMs(text)).toBeUndefined();
    },
  );
});
