import { describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import { type Command, commandSchema } from '../../shared/wire/command.js';
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

  it('told twice within half an hour are two, and the second is told so: sameness is the message`s id', () => {
    const desk = deskOf(three);
    tell(desk, parsed({ do: 'watered', tray: 't1', ref: 'w1' }), view(noon));
    const { answer, effects } = tell(
      desk,
      parsed({ do: 'watered', tray: 't1', ref: 'w2', at: toInstant(noon + 10 * MIN) }),
      view(noon + 20 * MIN),
    );
    expect(wateredTrays(effects)).toEqual(['t1']);
    expect(answer.sentence).toBe(
      'Watered at 12:10: t1. A further pour: t1 was told within half an hour of this. If it was the same one, undo this.',
    );
    const again = tell(desk, parsed({ do: 'watered', tray: 't1', ref: 'w2' }), view(noon + 21 * MIN));
    expect(again).toMatchObject({ answer: { ok: true, code: 'told-already' }, effects: [] });
  });

  it('told in two rows of a log are two, and one in the same row twice', () => {
    const desk = deskOf(three);
    const row = (minute: number) =>
      ({ event: 'watered', at: toInstant(noon + minute * MIN), tray: 't1' }) as const;
    const waterings = [0, 0, 10].map((minute) =>
      wateredTrays(desk.trayEvent(row(minute), view(noon + 10 * MIN))),
    );
    expect(waterings).toEqual([['t1'], [], ['t1']]);
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
});
