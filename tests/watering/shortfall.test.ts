import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type DeskState,
  memoryOf,
  startingState,
  type TrayMemory,
} from '../../src/watering/desk/desk-state.js';
import { carryShortfall, doubtPour } from '../../src/watering/desk/shortfall.js';
import { deskOf, minis, tell } from './desk-of.js';
import { dailyRounds, farm, forecast, HOUR, MIDNIGHT, MIN, only, view } from './helpers.js';

const noon = MIDNIGHT + 9 * HOUR;

/** Watered at nine in the morning after so many hours dry; then lasts six hours, the model says. What is called until noon, and when? */
function callsAfter(dryHours: number, roundHours = [7, 18]): readonly { sentence: string; min: number }[] {
  const rounds = dailyRounds(roundHours);
  const desk = deskOf(minis('t1'));
  for (let nowMs = noon - 3 * HOUR; nowMs < noon; nowMs += 10 * MIN) {
    const dry = nowMs >= noon - dryHours * HOUR;
    const held = forecast('t1', nowMs, dry ? 0 : 20, { waterContent: dry ? 0.36 : 0.5 });
    desk.decide(view(nowMs, [held], { rounds }));
  }
  tell(
    desk,
    { do: 'watered', tray: 't1', by: 'Ana' },
    view(noon, [forecast('t1', noon, 0, { waterContent: 0.36 })], { rounds }),
  );
  const made: { sentence: string; min: number }[] = [];
  for (let nowMs = noon + 10 * MIN; nowMs <= noon + 3 * HOUR; nowMs += 10 * MIN) {
    const left = 6 - (nowMs - noon) / HOUR;
    const held = forecast('t1', nowMs, left, { waterContent: 0.56 });
    const effects = desk.decide(view(nowMs, [held], { rounds }));
    const min = (nowMs - noon) / MIN;
    made.push(...only(effects, 'call').map(({ call }) => ({ sentence: call.sentence ?? '', min })));
  }
  return made;
}

function memory(index: number, dry = 0, spanMl?: number): TrayMemory {
  const state: DeskState = startingState(farm());
  const fresh = memoryOf(state, 't1');
  carryShortfall(fresh, { index, dry, spanMl });
  return fresh;
}

describe('a tray that was dry when it was watered', () => {
  it('is looked at again within hours: dry blocks shed the first water', () => {
    expect(callsAfter(2).map(({ sentence }) => sentence)).toEqual([
      'Bench south: t1 may have taken up little of its last water, as dry blocks do. Look, and pour again if it is light.',
    ]);
  });

  it('is told of while people are still at the benches, once the pour has had its time to soak in', () => {
    const [call] = callsAfter(2, [9, 18]);
    expect(call?.min).toBeGreaterThanOrEqual(20);
    expect(call?.min).toBeLessThan(60);
  });

  it('and not sooner after a pour between rounds: nobody can see yet whether it soaked in', () => {
    expect(callsAfter(2)[0]?.min).toBeGreaterThanOrEqual(20);
  });

  it('and one that was not, is not', () => {
    expect(callsAfter(0)).toEqual([]);
  });

  it('is doubted until a watering finds it wetter than dry', () => {
    const tray = memory(-0.2, 1);
    doubtPour(tray);
    expect(tray.shortfall?.probability).toBeCloseTo(0.65, 6);
    expect(tray.shortfall?.index).toBeCloseTo(-0.2 + 0.3 * 1.2, 6);
    carryShortfall(tray, { index: 0.9, dry: 0 });
    carryShortfall(tray, { index: 0.6, dry: 0 });
    expect(tray.shortfall?.index).toBeCloseTo(-0.2 + 0.3 * 1.2 - 0.3, 6);
    doubtPour(tray);
    expect(tray.shortfall).toBeUndefined();
  });
});

describe('what is seen at the bench', () => {
  it('dry blocks that a probe shows drinking from the start have hardly shed it', () => {
    const doubted = (shownMl?: number): number => {
      const tray = memory(-0.2, 1, 500);
      doubtPour(tray, shownMl);
      return tray.shortfall?.probability ?? 0;
    };
    expect(doubted()).toBeCloseTo(0.65, 6);
    expect(doubted(30)).toBeGreaterThan(0.6);
    // a fifth of the 600 mL that it lacks: 0.65 / e
    expect(doubted(120)).toBeCloseTo(0.65 / Math.E, 6);
    expect(doubted(300)).toBe(0);
  });

  it('a look or a weighing ends the doubt', () => {
    for (const command of [
      { do: 'looked', tray: 't1', level: 3 },
      { do: 'weighed', tray: 't1', grams: 3000 },
    ] as const) {
      const desk = deskOf(minis('t1'));
      const dry = view(noon, [forecast('t1', noon, 0, { waterContent: 0.3 })]);
      desk.decide(dry);
      tell(desk, { do: 'watered', tray: 't1' }, dry);
      expect(JSON.stringify(desk.snapshot())).toContain('"shortfall"');
      tell(desk, command, view(noon + 10 * MIN));
      expect(JSON.stringify(desk.snapshot())).not.toContain('"shortfall"');
    }
  });
});

describe('a shortfall', () => {
  it('is a probability, below the model, whatever happens in whatever order', () => {
    const steps = fc.array(
      fc.oneof(
        fc.record({ do: fc.constant('dry' as const), index: fc.double({ min: -1, max: 1.1, noNaN: true }) }),
        fc.record({
          do: fc.constant('pour' as const),
          shownMl: fc.option(fc.integer({ min: 1, max: 3000 })),
        }),
      ),
      { maxLength: 30 },
    );
    fc.assert(
      fc.property(steps, (list) => {
        const tray = memory(0.5, 0, 500);
        for (const step of list) {
          if (step.do === 'dry')
            carryShortfall(tray, { index: step.index, dry: step.index < 0 ? 1 : 0, spanMl: 500 });
          else doubtPour(tray, step.shownMl ?? undefined);
          const { shortfall, held } = tray;
          if (shortfall === undefined) continue;
          expect(shortfall.probability).toBeGreaterThan(0);
          expect(shortfall.probability).toBeLessThanOrEqual(1);
          if (step.do !== 'pour') expect(shortfall.index).toBeLessThan(held?.index ?? 0);
        }
      }),
    );
  });
});
