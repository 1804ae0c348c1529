import { describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import { MS_PER_HOUR } from '../../shared/base/time-units.js';
import { unitsSchema } from '../../shared/config/notices.js';
import { readMoment } from '../../src/cli/terminal/typed/read-moment.js';
import { englishForms } from '../../src/watering/sentences/english/forms.js';
import { spanishForms } from '../../src/watering/sentences/spanish/forms.js';
import { createFarmWords } from '../../src/watering/sentences/words/farm-words.js';

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
  it.each([
    ['tomorrow 07:00', 'future', '2026-03-29T05:00:00Z'],
    ['mañana a las 07:00', 'future', '2026-03-29T05:00:00Z'],
    ['yesterday 18:00', 'past', '2026-03-27T17:00:00Z'],
    ['Thu 18:00', 'past', '2026-03-26T17:00:00Z'],
    ['Thu 18:00', 'future', '2026-04-02T16:00:00Z'],
    ['jue 18:00', 'past', '2026-03-26T17:00:00Z'],
    ['Sat 18:00', 'past', '2026-03-28T17:00:00Z'],
    ['Sat 18:00', 'future', '2026-04-04T16:00:00Z'],
    ['Sat 22:00', 'future', '2026-03-28T21:00:00Z'],
    ['30 April 7:00', 'past', '2025-04-30T05:00:00Z'],
    ['Thu 30 Apr 07:00', 'future', '2026-04-30T05:00:00Z'],
    ['Fri 18 Apr 2025 07:00', 'past', '2025-04-18T05:00:00Z'],
    ['miércoles 07:00', 'future', '2026-04-01T05:00:00Z'],
  ] as const)('reads "%s" of the %s as the farm writes it', (text, side, instant) => {
    expect(read(text, side)).toBe(instant);
  });
  it('reads back every time that the farm writes, in both languages', () => {
    for (const forms of [englishForms, spanishForms]) {
      const words = createFarmWords('Europe/Berlin', unitsSchema.parse({}), forms);
      for (let hours = -400; hours < 9000; hours += 37) {
        const atMs = now + hours * MS_PER_HOUR;
        const side = hours < 0 ? 'past' : 'future';
        expect(read(words.time(atMs, now), side), words.time(atMs, now)).toBe(toInstant(atMs));
      }
    }
  });
  it('a day that is not on its side of now is refused', () => {
    expect(() => read('tomorrow 07:00', 'past')).toThrow('"tomorrow 07:00" is not a time that is over');
    expect(() => read('yesterday 07:00', 'future')).toThrow('is not a time to come');
  });
  it.each(['25:00', '31 Feb 07:00', 'Thx 07:00', 'noon', '', '3 weeks', '2026-13-01 10:00', '18.4.2026'])(
    'refuses "%s"',
    (text) => {
      expect(() => read(text, 'past')).toThrow('is not a time');
    },
  );
});
