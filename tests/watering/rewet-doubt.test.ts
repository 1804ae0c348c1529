import { describe, expect, it } from 'vitest';
import { deskOf, minis, tell } from './desk-of.js';
import { forecast, HOUR, MIDNIGHT, MIN, only, view } from './helpers.js';

const noon = MIDNIGHT + 8 * HOUR;

/** Watered at noon after this many hours dry; then lasts six hours, as the forecast says. What is called until 13:00? */
function callsAfter(dryHours: number): readonly string[] {
  const desk = deskOf(minis('t1'));
  for (let nowMs = noon - 3 * HOUR; nowMs < noon; nowMs += 10 * MIN) {
    const dry = nowMs >= noon - dryHours * HOUR;
    desk.decide(view(nowMs, [forecast('t1', nowMs, dry ? 0 : 20, { waterContent: dry ? 0.3 : 0.5 })]));
  }
  tell(
    desk,
    { do: 'watered', tray: 't1', by: 'Ana' },
    view(noon, [forecast('t1', noon, 0, { waterContent: 0.3 })]),
  );
  const sentences: string[] = [];
  for (let nowMs = noon + 10 * MIN; nowMs <= noon + 2 * HOUR; nowMs += 10 * MIN) {
    const left = 6 - (nowMs - noon) / HOUR;
    const effects = desk.decide(view(nowMs, [forecast('t1', nowMs, left, { waterContent: 0.56 })]));
    sentences.push(...only(effects, 'call').map(({ call }) => call.sentence));
  }
  return sentences;
}

describe('a tray that was dry when it was watered', () => {
  it('is looked at again within hours: dry blocks shed the first water', () => {
    expect(callsAfter(2)).toEqual([
      'Bench south: t1 was dry when watered, and dry blocks shed the first water. Look, and pour again if it is light.',
    ]);
  });

  it('and one that was not, is not', () => {
    expect(callsAfter(0)).toEqual([]);
  });
});
