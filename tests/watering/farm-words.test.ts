import { describe, expect, it } from 'vitest';
import { unitsSchema } from '../../shared/config/notices.js';
import { createSpeech } from '../../src/watering/sentences/speech.js';

const berlin = createSpeech({ timeZone: 'Europe/Berlin', units: unitsSchema.parse({}) }).words;
const at = (text: string): number => Date.parse(text);

describe('times in the words of the farm', () => {
  // 25 October 2026 has 25 hours in Berlin, 29 March 2026 has 23.
  it.each([
    ['2026-04-18T18:00+02:00', '2026-04-18T16:45+02:00', '18:00', 'the 18:00 round'],
    ['2026-04-19T07:00+02:00', '2026-04-18T16:45+02:00', '07:00', 'the 07:00 round'],
    ['2026-04-19T07:00+02:00', '2026-04-18T09:00+02:00', 'tomorrow 07:00', "tomorrow's 07:00 round"],
    ['2026-04-17T23:00+02:00', '2026-04-18T01:00+02:00', 'yesterday 23:00', "yesterday's 23:00 round"],
    ['2026-04-23T07:00+02:00', '2026-04-18T09:00+02:00', 'Thu 07:00', 'the Thu 07:00 round'],
    ['2026-04-30T07:00+02:00', '2026-04-18T09:00+02:00', 'Thu 30 Apr 07:00', 'the Thu 30 Apr 07:00 round'],
    [
      '2025-04-18T07:00+02:00',
      '2026-04-18T09:00+02:00',
      'Fri 18 Apr 2025 07:00',
      'the Fri 18 Apr 2025 07:00 round',
    ],
    ['2026-03-30T18:00+02:00', '2026-03-28T23:30+01:00', 'Mon 18:00', 'the Mon 18:00 round'],
    ['2026-10-26T18:00+01:00', '2026-10-25T00:30+02:00', 'tomorrow 18:00', "tomorrow's 18:00 round"],
  ])('%s told at %s is "%s", "%s"', (told, now, time, round) => {
    expect(berlin.time(at(told), at(now))).toBe(time);
    expect(berlin.round(at(told), at(now))).toBe(round);
  });
});

describe('blocks in the units of the farm', () => {
  const inInches = createSpeech({
    timeZone: 'America/New_York',
    units: unitsSchema.parse({ length: 'in' }),
  }).words;
  it.each([
    [280, 19, '280 minis', '280 minis'],
    [1, 19, '1 mini', '1 mini'],
    [72, 38, '72 blocks of 38 mm', '72 blocks of 1 1/2 in'],
    [1, 51, '1 block of 51 mm', '1 block of 2 in'],
  ])('%d of %d mm are "%s", "%s"', (count, sideMm, metric, imperial) => {
    expect(berlin.blocksCounted(count, sideMm)).toBe(metric);
    expect(inInches.blocksCounted(count, sideMm)).toBe(imperial);
  });
});

describe('amounts in the units of the farm', () => {
  it('have their unit once in a range', () => {
    const american = createSpeech({
      timeZone: 'America/New_York',
      units: unitsSchema.parse({ volume: 'fl oz' }),
    }).words;
    expect(berlin.volumes(150, 420)).toBe('150 to 420 mL');
    expect(american.volumes(150, 420)).toBe('5 to 14 fl oz');
    expect(berlin.volumes(950, 1200)).toBe('950 mL to 1.2 L');
  });
});
