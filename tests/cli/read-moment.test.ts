import { describe, expect, it } from 'vitest';
import { readMoment } from '../../src/cli/terminal/typed/read-moment.js';

describe('readMoment()', () => {
  const now = Date.parse('2026-03-28T20:30:00Z');
  const read = (text: string, side: 'past' | 'future') => readMoment(text, side, now, 'Europe/Berlin');
  it("reads a time of day on the farm's clock, the next or the last one, over a change of the clock", () => {
    expect(read('22:00', 'future')).toBe('2026-03-28T21:00:00Z');
    expect(read('7:00', 'future')).toBe('2026-03-29T05:00:00Z');
    expect(read('22:00', 'past')).toBe('2026-03-27T21:00:00Z');
    expect(read('21:30', 'past')).toBe('2026-03-28T20:30:00Z');
  });
  it('reads spans, local times and RFC 3339', () => {
    expect(read('90min', 'future')).toBe('2026-03-28T22:00:00Z');
    expect(read('1.5h ago', 'past')).toBe('2026-03-28T19:00:00Z');
    expect(read('2026-04-18 14:30', 'past')).toBe('2026-04-18T12:30:00Z');
    expect(read('2026-04-18T14:30:00-07:00', 'past')).toBe('2026-04-18T21:30:00Z');
  });
  it.each(['25:00', 'noon', '', '3 weeks', '2026-13-01 10:00', '18.4.2026'])('refuses "%s"', (text) => {
    expect(() => read(text, 'past')).toThrow('is not a time');
  });
});
