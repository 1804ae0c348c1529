import { describe, expect, it } from 'vitest';
import { type Command, commandSchema } from '../../shared/command.js';
import { deskOf, minis, tell } from './desk-of.js';
import { forecast, HOUR, MIDNIGHT, MIN, only, view } from './helpers.js';

const noon = MIDNIGHT + 12 * HOUR;
const parsed = (command: unknown): Command => commandSchema.parse(command);

describe('waterings by command', () => {
  const north = { bench: 'north' };
  const three = [...minis('t1', 't2'), { id: 't3', blockSideMm: 38, ...north }];
  const wateredTrays = (effects: ReturnType<typeof tell>['effects']) =>
    only(effects, 'watering').map(({ watering }) => watering.tray);

  it.each([
    [{ tray: 't2' }, ['t2']],
    [{ bench: 'south' }, ['t1', 't2']],
    [{ blockSideMm: 38 }, ['t3']],
    [{ bench: 'south', blockSideMm: 20 }, ['t1', 't2']],
  ])('%j waters %j', (which, trays) => {
    expect(
      wateredTrays(tell(deskOf(three), parsed({ do: 'watered', ...which }), view(noon)).effects),
    ).toEqual(trays);
  });

  it('of one pour by two people count once, and the second is told so', () => {
    const desk = deskOf(three);
    tell(desk, parsed({ do: 'watered', tray: 't1', by: 'Ana' }), view(noon));
    const { answer, effects } = tell(
      desk,
      parsed({ do: 'watered', bench: 'south', by: 'Ben' }),
      view(noon + 20 * MIN),
    );
    expect(wateredTrays(effects)).toEqual(['t2']);
    expect(answer.sentence).toBe('Watered at 12:20: t2. Told already and counted once: t1.');
    expect(
      tell(desk, parsed({ do: 'watered', tray: 't1', by: 'Ben' }), view(noon + 20 * MIN)).answer.code,
    ).toBe('told-already');
  });

  it('"round done, except" waters what the notice listed but for those named', () => {
    const desk = deskOf(three);
    const nowMs = MIDNIGHT + 16.75 * HOUR;
    desk.roundNotice(
      MIDNIGHT + 18 * HOUR,
      view(nowMs, [forecast('t1', nowMs, 9), forecast('t2', nowMs, 9), forecast('t3', nowMs, 90)]),
    );
    const wrong = tell(desk, parsed({ do: 'round-done', except: ['t3'] }), view(nowMs + 2 * HOUR));
    expect(wrong.answer).toMatchObject({ ok: false, code: 'not-in-notice' });
    const { answer, effects } = tell(
      desk,
      parsed({ do: 'round-done', except: ['t2'], by: 'Ana' }),
      view(nowMs + 2 * HOUR),
    );
    expect(wateredTrays(effects)).toEqual(['t1']);
    expect(answer.sentence).toBe('Watered at 18:45: t1. Left out: t2.');
  });

  describe('"round done"', () => {
    const listed = (nowMs: number) =>
      view(
        nowMs,
        ['t1', 't2'].map((id) => forecast(id, nowMs, 9)),
      );
    const noticed = () => {
      const desk = deskOf(three);
      desk.roundNotice(MIDNIGHT + 18 * HOUR, listed(MIDNIGHT + 16.75 * HOUR));
      return desk;
    };

    it('sums up: what was told tray by tray since the notice counts once, however long the round took', () => {
      const desk = noticed();
      tell(desk, parsed({ do: 'watered', tray: 't1' }), listed(MIDNIGHT + 18 * HOUR));
      const { answer, effects } = tell(desk, parsed({ do: 'round-done' }), listed(MIDNIGHT + 19 * HOUR));
      expect(wateredTrays(effects)).toEqual(['t2']);
      expect(answer.sentence).toBe('Watered at 19:00: t2. Told already and counted once: t1.');
    });

    it('fills a tray of which only a part of its dose was told', () => {
      const desk = noticed();
      tell(desk, parsed({ do: 'watered', tray: 't1', ml: 200 }), listed(MIDNIGHT + 18 * HOUR));
      const { effects } = tell(desk, parsed({ do: 'round-done' }), listed(MIDNIGHT + 19 * HOUR));
      expect(wateredTrays(effects)).toEqual(['t1', 't2']);
    });

    it.each([[['t1']], [['t1', 't2']]])('can be undone, also that %j was left out', (except) => {
      const desk = noticed();
      tell(desk, parsed({ do: 'round-done', except, ref: 'd1' }), listed(MIDNIGHT + 19 * HOUR));
      const undone = tell(desk, parsed({ do: 'undo', undo: 'd1' }), listed(MIDNIGHT + 19.5 * HOUR));
      expect(undone.answer).toMatchObject({ ok: true, code: 'done' });
      const unknown = view(
        MIDNIGHT + 20 * HOUR,
        ['t1', 't2'].map((id) => forecast(id, MIDNIGHT + 20 * HOUR, 7, { basis: 'shared' })),
      );
      expect(only(desk.decide(unknown), 'ask').map(({ trayIds }) => trayIds)).toEqual([['t1', 't2']]);
    });
  });

  it('that fit no tray are refused in words that fit what was asked', () => {
    const told = (which: object, desk = deskOf(minis('t1'))) =>
      tell(desk, parsed({ do: 'watered', ...which }), view(noon)).answer.sentence;
    expect(told(north)).toBe('No tray stands on bench north.');
    expect(told({ blockSideMm: 50 })).toBe(
      'No tray with blocks of 50 mm stands. Block sizes in use are: 19 mm.',
    );
    expect(told({ blockSideMm: 50 }, deskOf([]))).toBe(
      'No tray with blocks of 50 mm stands. There are no trays.',
    );
  });

  it('tells what one tray got as one amount', () => {
    const told = (which: object) =>
      tell(deskOf(three), parsed({ do: 'watered', ml: 400, ...which }), view(noon)).answer.sentence;
    expect(told({ tray: 't1' })).toBe('Watered at 12:00: t1, 400 mL.');
    expect(told({ bench: 'south' })).toBe('Watered at 12:00: t1, t2, 400 mL each.');
  });

  it('can be undone, and the alarm that it ended may speak again', () => {
    const desk = deskOf(minis('t1'));
    const dry = (nowMs: number) => view(nowMs, [forecast('t1', nowMs, 0.5)]);
    for (const minute of [0, 10]) desk.decide(dry(noon + minute * MIN));
    tell(desk, parsed({ do: 'watered', tray: 't1', ref: 'w1' }), dry(noon + 20 * MIN));
    expect(desk.standing().alarms).toEqual([]);
    tell(desk, parsed({ do: 'undo', undo: 'w1' }), dry(noon + 30 * MIN));
    for (const minute of [40, 50]) desk.decide(dry(noon + minute * MIN));
    expect(desk.standing().alarms.map(({ kind }) => kind)).toEqual(['refill']);
  });
});
