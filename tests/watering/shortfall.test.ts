import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type DeskState,
  memoryOf,
  startingState,
  type TrayMemory,
} from '../../src/watering/desk/desk-state.js';
import { carryShortfall, doubtPour, passedBy, shownFilled } from '../../src/watering/desk/shortfall.js';
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

  it('is doubted, and after a second watering that found it dry again still is', () => {
    const tray = memory(-0.2, 1);
    doubtPour(tray, 0.8);
    expect(tray.shortfall?.probability).toBeCloseTo(0.65, 6);
    expect(tray.shortfall?.index).toBeCloseTo(-0.2 + 0.3 * 1.2, 6);
    carryShortfall(tray, { index: 0.9, dry: 0 });
    for (let index = 0.9; index > 0.6; index -= 0.03) carryShortfall(tray, { index, dry: 0 });
    const before = tray.shortfall?.probability ?? 0;
    doubtPour(tray, undefined);
    expect(tray.shortfall?.probability).toBeGreaterThan(before);
  });
});

describe('a doubted tray that people water again unasked', () => {
  it('is taken for drinking little, until it has been wet through', () => {
    const tray = memory(-0.2, 1);
    doubtPour(tray, undefined);
    const indices: number[] = [];
    for (let pour = 0; pour < 6; pour++) {
      carryShortfall(tray, { index: 0.9, dry: 0 });
      indices.push(tray.shortfall?.index ?? 1);
      doubtPour(tray, undefined);
    }
    expect(indices[1]).toBeCloseTo((indices[0] ?? 0) + 0.2 * (1 - (indices[0] ?? 0)), 6);
    expect(tray.shortfall).toBeUndefined();
  });

  it('takes all that it was asked to be given', () => {
    const tray = memory(0.9);
    tray.shortfall = { probability: 0.65, index: 0.4 };
    doubtPour(tray, 0.8);
    expect(tray.shortfall).toBeUndefined();
  });
});

describe('what people do at the bench', () => {
  it('watering unasked what the model holds for full speaks for a shortfall; doing as asked does not', () => {
    const unasked = memory(0.8);
    doubtPour(unasked, undefined);
    expect(unasked.shortfall?.probability).toBeGreaterThan(0.25);
    const asked = memory(0.8);
    doubtPour(asked, 0.95);
    expect(asked.shortfall).toBeUndefined();
  });

  it('watering unasked what is half dry anyway says little', () => {
    const half = memory(0.35);
    doubtPour(half, undefined);
    expect(half.shortfall?.probability ?? 0).toBeLessThan(0.12);
  });

  it('pouring by measure more than the model has room for speaks for one, asked or not', () => {
    const poured = (asked: number | undefined, ml?: number): number => {
      const tray = memory(0.7, 0, 500);
      doubtPour(tray, asked, { toldMl: ml });
      return tray.shortfall?.probability ?? 0;
    };
    expect(poured(undefined, 350)).toBeGreaterThan(poured(undefined) + 0.1);
    expect(poured(undefined, 140)).toBeCloseTo(poured(undefined), 6);
    expect(poured(0.9, 350)).toBeGreaterThan(0.1);
    expect(poured(0.9, 140)).toBe(0);
  });

  it('dry blocks that a probe shows drinking from the start have hardly shed it', () => {
    const doubted = (shownMl?: number): number => {
      const tray = memory(-0.2, 1, 500);
      doubtPour(tray, 0.8, { shownMl });
      return tray.shortfall?.probability ?? 0;
    };
    expect(doubted()).toBeCloseTo(0.65, 6);
    expect(doubted(30)).toBeGreaterThan(0.6);
    // a fifth of the 600 mL that it lacks: 0.65 / e
    expect(doubted(120)).toBeCloseTo(0.65 / Math.E, 6);
    expect(doubted(300)).toBe(0);
  });

  it('blocks that a probe shows wet through speak against it', () => {
    const tray = memory(-0.2, 1);
    doubtPour(tray, 0.8);
    carryShortfall(tray, { index: 0.9, dry: 0 });
    shownFilled(tray);
    // Bayes by hand: 0.65 x 0.3 / (0.65 x 0.3 + 0.35 x 0.9)
    expect(tray.shortfall?.probability).toBeCloseTo(0.195 / 0.51, 6);
  });

  it('passing by speaks against it, the more the surer a watering would be known', () => {
    const doubted = (told: number): number => {
      const tray = memory(-0.1, 1);
      doubtPour(tray, 0.8);
      carryShortfall(tray, { index: 0.9, dry: 0 });
      for (let index = 0.9; index > 0.65; index -= 0.03) carryShortfall(tray, { index, dry: 0 });
      passedBy(tray, told);
      return tray.shortfall?.probability ?? 0;
    };
    expect(doubted(1)).toBeLessThan(doubted(0.5));
    expect(doubted(0.5)).toBeLessThan(doubted(0));
    expect(doubted(0)).toBeCloseTo(0.65, 6);
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
          asked: fc.option(fc.double({ min: 0, max: 1, noNaN: true })),
          toldMl: fc.option(fc.integer({ min: 1, max: 3000 })),
          shownMl: fc.option(fc.integer({ min: 1, max: 3000 })),
        }),
        fc.record({ do: fc.constant('shown' as const) }),
        fc.record({ do: fc.constant('pass' as const), told: fc.double({ min: 0, max: 1, noNaN: true }) }),
      ),
      { maxLength: 30 },
    );
    fc.assert(
      fc.property(steps, (list) => {
        const tray = memory(0.5, 0, 500);
        for (const step of list) {
          if (step.do === 'dry')
            carryShortfall(tray, { index: step.index, dry: step.index < 0 ? 1 : 0, spanMl: 500 });
          else if (step.do === 'pour')
            doubtPour(tray, step.asked ?? undefined, {
              toldMl: step.toldMl ?? undefined,
              shownMl: step.shownMl ?? undefined,
            });
          else if (step.do === 'shown') shownFilled(tray);
          else passedBy(tray, step.told);
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
