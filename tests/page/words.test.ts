import { describe, expect, it } from 'vitest';
import {
  sizeWords,
  temperatureWords,
  waterWords,
  weightWords,
} from '../../src/review/page/texts/amounts/amounts.js';
import {
  gramsTyped,
  lengthOfTyped,
  lengthTyped,
  waterStepMl,
  weightFields,
} from '../../src/review/page/texts/amounts/typed-amounts.js';
import { en } from '../../src/review/page/texts/en/en.js';
import { agoWords, farmClockWords } from '../../src/review/page/texts/farm-clock.js';
import { hoursFigure, hoursRange } from '../../src/review/page/texts/hours-left.js';
import { createSpeech } from '../../src/watering/sentences/speech.js';

const metric = { volume: 'mL', temperature: 'C', length: 'mm', weight: 'g' } as const;
const inches = { volume: 'fl oz', temperature: 'F', length: 'in', weight: 'lb' } as const;
const said = (hours: number | null): string => {
  const { figure, unit } = hoursFigure(hours, en);
  return `${figure} ${unit}`.trim();
};

describe('hours left', () => {
  it('are dry at 0, minutes under an hour, hours to a day and a half, then half days, and 5+ beyond the horizon', () => {
    expect([0, 0.02, 0.66, 6.4, 36.4, 37, 47, 100, null].map(said)).toEqual([
      'dry',
      '5 min',
      '40 min',
      '6 h',
      '36 h',
      '1½ d',
      '1½ d',
      '4 d',
      '5+ d',
    ]);
  });

  it('say a range once when both ends read the same, and name each unit when they differ', () => {
    expect(hoursRange({ p10: 5.1, p50: 7, p90: 10.4 }, en)).toBe('5–10 h');
    expect(hoursRange({ p10: 0.5, p50: 1, p90: 3 }, en)).toBe('30 min – 3 h');
    expect(hoursRange({ p10: 5.1, p50: 5.2, p90: 5.3 }, en)).toBe('5 h');
    expect(hoursRange({ p10: 90, p50: null, p90: null }, en)).toBe('3½–5+ d');
  });
});

describe('amounts in the units of the farm', () => {
  it('waterWords() rounds to what anybody pours', () => {
    expect([7, 583, 996, 1420, 3240, 12_340, 140_200].map((ml) => waterWords(ml, metric))).toEqual([
      '7 mL',
      '585 mL',
      '995 mL',
      '1.42 L',
      '3.24 L',
      '12.3 L',
      '140 L',
    ]);
    // 1 US fl oz = 29.5735 mL, 1 US gal = 3785.41 mL (NIST Handbook 44, appendix C).
    expect(waterWords(580, inches)).toBe('20 fl oz');
    expect(waterWords(3785.41 * 2, inches)).toBe('2.0 gal');
  });

  it('sizeWords() gives the trade its eighths of an inch', () => {
    expect([19, 38, 51, 47].map((side) => sizeWords(side, inches))).toEqual([
      '3/4 in',
      '1 1/2 in',
      '2 in',
      '1 7/8 in',
    ]);
    expect(sizeWords(19, metric)).toBe('19 mm');
  });

  it('are rounded as the sentences and the terminal round them', () => {
    const { words } = createSpeech({ timeZone: 'UTC', units: inches });
    for (const sideMm of [12, 19, 25, 38, 47, 51, 100])
      expect(sizeWords(sideMm, inches)).toBe(words.side(sideMm));
    for (const ml of [0, 3, 20, 90, 250, 580, 1200, 3785, 60_000])
      expect(waterWords(ml, inches)).toBe(words.volume(ml));
    for (const g of [3, 450, 2126.2, 12_345]) expect(weightWords(g, inches)).toBe(words.weight(g));
    const inMetres = createSpeech({ timeZone: 'UTC', units: metric }).words;
    for (const ml of [0, 0.34, 9.96, 42, 583, 996, 998, 1420, 9949, 9951, 99_400, 99_600])
      expect(waterWords(ml, metric)).toBe(inMetres.volume(ml));
  });

  it('lengthTyped() and lengthOfTyped() take a trade size there and back, whatever its inches are rounded to', () => {
    const trade = [19, 38, 51];
    expect(trade.map((mm) => lengthTyped(mm, inches))).toEqual([0.75, 1.5, 2]);
    expect([0.75, 1.5, 2].map((value) => lengthOfTyped(value, inches, trade))).toEqual(trade);
    // 1 in = 25.4 mm exactly (international yard and pound agreement, 1959)
    expect([lengthOfTyped(1, inches, trade), lengthTyped(25.4, inches)]).toEqual([25.4, 1]);
    expect([lengthOfTyped(47, metric, trade), lengthTyped(47, metric)]).toEqual([47, 47]);
  });

  it('weights are told and typed in pounds and ounces, ounces or grams', () => {
    // 1 lb = 453.59237 g exactly, of 16 oz (NIST Handbook 44, appendix C).
    expect([453.592, 2126.2, 450, 0].map((g) => weightWords(g, inches))).toEqual([
      '1 lb',
      '4 lb 11 oz',
      '15.9 oz',
      '0 oz',
    ]);
    expect(weightWords(2126.2, { ...inches, weight: 'oz' })).toBe('75 oz');
    expect(weightWords(2126.2, metric)).toBe('2,126 g');
    expect(weightFields(inches)).toEqual(['lb', 'oz']);
    expect(gramsTyped((unit) => ({ g: 0, lb: 4, oz: 11 })[unit], inches)).toBe(2126.2);
    expect(gramsTyped(() => 2140.5, metric)).toBe(2140.5);
  });

  it('waterStepMl() steps by what the unit has on a measure', () => {
    expect(waterWords(waterStepMl(metric), metric)).toBe('50 mL');
    expect(waterWords(10 * waterStepMl(inches), inches)).toBe('20 fl oz');
  });

  it('temperatureWords() knows the fixed points of both scales', () => {
    expect([0, 100, -40].map((celsius) => temperatureWords(celsius, inches))).toEqual([
      '32 °F',
      '212 °F',
      '-40 °F',
    ]);
    expect(temperatureWords(17.94, metric)).toBe('17.9 °C');
  });
});

describe("the farm's clock in words", () => {
  const berlin = farmClockWords('Europe/Berlin', en);
  const at = (text: string): number => Date.parse(text);

  it('names the day only when it is not today', () => {
    const now = at('2026-05-15T15:10:00Z');
    expect(berlin.when(at('2026-05-15T16:00:00Z'), now)).toBe('18:00');
    expect(berlin.when(at('2026-05-16T05:00:00Z'), now)).toBe('tomorrow 07:00');
    expect(berlin.when(at('2026-05-14T16:00:00Z'), now)).toBe('yesterday 18:00');
    expect(berlin.when(at('2026-05-18T05:00:00Z'), now)).toBe('Mon 07:00');
    expect(berlin.when(at('2026-04-02T05:00:00Z'), now)).toBe('2 Apr 07:00');
  });

  it('crosses the change to summer time', () => {
    // 29 March 2026: 01:59 CET is followed by 03:00 CEST (Directive 2000/84/EC).
    expect(berlin.timeOfDay(at('2026-03-29T00:59:00Z'))).toBe('01:59');
    expect(berlin.timeOfDay(at('2026-03-29T01:00:00Z'))).toBe('03:00');
    expect(berlin.dayKey(at('2026-03-28T23:30:00Z'))).toBe('2026-03-29');
  });

  it('says how long ago, coarsely', () => {
    const minutes = [0.4, 4, 89, 180, 40 * 60];
    expect(minutes.map((m) => agoWords(m * 60_000, en))).toEqual([
      'just now',
      '4 min ago',
      '89 min ago',
      '3 h ago',
      '2 d ago',
    ]);
  });
});
