import { describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/ids.js';
import { createWateringDesk } from '../../src/watering/create-watering-desk.js';
import type { DeskEffect, WateringDesk } from '../../src/watering/watering-desk.js';
import { deskOf, minis, tell } from './desk-of.js';
import { farm, forecast, HOUR, MIDNIGHT, MIN, only, view } from './helpers.js';

const noon = MIDNIGHT + 12 * HOUR;
const dryView = (nowMs: number) => view(nowMs, [forecast('t1', nowMs, 0, { waterContent: 0.36 })]);
const states = (effects: readonly DeskEffect[]): readonly string[] =>
  only(effects, 'alarm').flatMap(({ transition }) => (transition.kind === 'dry' ? [transition.state] : []));

/** A desk that has called about a dry tray. */
function called(): WateringDesk {
  const desk = deskOf(minis('t1'));
  const effects = [0, 10, 20, 30].flatMap((minute) => desk.decide(dryView(noon + minute * MIN)));
  expect(states(effects)).toEqual(['unacknowledged']);
  expect(only(effects, 'call')).toHaveLength(1);
  return desk;
}

const later = {
  do: 'shelve',
  ref: 'later-1',
  kind: 'dry',
  of: 't1',
  until: toInstant(noon + 4 * HOUR),
} as const;
const undo = (ref: string) => ({ do: 'undo', undo: ref }) as const;

describe('undo of "later"', () => {
  it('has the call stand as before, and does not call people again', () => {
    const desk = called();
    expect(states(tell(desk, later, dryView(noon + HOUR)).effects)).toEqual(['shelved']);
    const undone = tell(desk, undo('later-1'), dryView(noon + HOUR + MIN));
    expect(undone.answer).toMatchObject({ ok: true, sentence: 'Undone: dry t1 is watched again.' });
    expect(states(undone.effects)).toEqual(['unacknowledged']);
    const after = [2, 12, 22].flatMap((minute) => desk.decide(dryView(noon + HOUR + minute * MIN)));
    expect(only(after, 'call')).toEqual([]);
  });

  it('of a call that was seen: by the transitions of the standard it is called, and seen', () => {
    const desk = called();
    tell(desk, { do: 'acknowledge', kind: 'dry', of: 't1', by: 'Ana' }, dryView(noon + 50 * MIN));
    tell(desk, later, dryView(noon + HOUR));
    const { effects } = tell(desk, { ...undo('later-1'), by: 'Ben' }, dryView(noon + HOUR + MIN));
    expect(states(effects)).toEqual(['unacknowledged', 'acknowledged']);
    expect(only(effects, 'alarm').map(({ transition }) => transition.by)).toEqual(['Ben', 'Ben']);
    expect(only(desk.decide(dryView(noon + 2 * HOUR)), 'call')).toEqual([]);
  });

  it('of one that was watered meanwhile: it is normal', () => {
    const desk = called();
    tell(desk, later, dryView(noon + HOUR));
    tell(desk, { do: 'watered', tray: 't1' }, dryView(noon + 2 * HOUR));
    expect(states(tell(desk, undo('later-1'), dryView(noon + 2 * HOUR + MIN)).effects)).toEqual(['normal']);
  });

  it('is refused when its time is over, when somebody ended it, and the second time', () => {
    const over = { ok: false, code: 'over-already' };
    const ended = called();
    tell(ended, later, dryView(noon + HOUR));
    ended.decide(dryView(noon + 5 * HOUR));
    expect(tell(ended, undo('later-1'), dryView(noon + 5 * HOUR + MIN)).answer).toMatchObject(over);
    const again = called();
    tell(again, later, dryView(noon + HOUR));
    tell(again, { do: 'unshelve', kind: 'dry', of: 't1' }, dryView(noon + HOUR + MIN));
    tell(again, { ...later, ref: 'later-2' }, dryView(noon + HOUR + 2 * MIN));
    expect(tell(again, undo('later-1'), dryView(noon + HOUR + 3 * MIN)).answer).toMatchObject(over);
    expect(tell(again, undo('later-2'), dryView(noon + HOUR + 4 * MIN)).answer.ok).toBe(true);
    expect(tell(again, undo('later-2'), dryView(noon + HOUR + 5 * MIN)).answer.code).toBe('nothing-to-undo');
  });

  it('works after a restart, and for "off" as well', () => {
    const before = called();
    tell(before, { do: 'out-of-service', ref: 'off-1', kind: 'dry', of: 't1' }, dryView(noon + HOUR));
    const desk = createWateringDesk(farm(), JSON.parse(JSON.stringify(before.snapshot())));
    expect(states(tell(desk, undo('off-1'), dryView(noon + HOUR + MIN)).effects)).toEqual(['unacknowledged']);
    expect(only(desk.decide(dryView(noon + HOUR + 10 * MIN)), 'call')).toEqual([]);
  });
});

describe('undo of "seen"', () => {
  it('is refused: the standard knows no way back; the answer says what to do, and nothing changes', () => {
    const desk = called();
    tell(desk, { do: 'acknowledge', ref: 'seen-1' }, dryView(noon + HOUR));
    const before = JSON.stringify(desk.snapshot());
    const { answer, effects } = tell(desk, undo('seen-1'), dryView(noon + HOUR + MIN));
    expect(answer).toMatchObject({ ok: false, code: 'seen-stays' });
    expect(answer.sentence).toMatch(/IEC 62682.*put it off \("later"\)/);
    expect(effects).toEqual([]);
    expect(JSON.stringify(desk.snapshot())).toBe(before);
  });
});

describe('undo of "away" and "back"', () => {
  const away = (ref: string, hour: number) =>
    ({ do: 'away', ref, until: toInstant(MIDNIGHT + hour * HOUR) }) as const;
  const noticed = (desk: WateringDesk) => desk.roundNotice(MIDNIGHT + 18 * HOUR, view(noon));
  const skipped = (desk: WateringDesk): boolean => {
    const { rounds } = desk.snapshot() as { rounds: { skipped: boolean }[] };
    return rounds.some((round) => round.skipped);
  };

  it('away undone: nobody was away, and the round that was to be skipped happens', () => {
    const desk = deskOf(minis('t1'));
    noticed(desk);
    tell(desk, away('away-1', 20), view(noon));
    expect([desk.standing().awayUntilMs, skipped(desk)]).toEqual([MIDNIGHT + 20 * HOUR, true]);
    expect(tell(desk, undo('away-1'), view(noon + HOUR)).answer).toMatchObject({
      ok: true,
      sentence: 'Undone: you are not away. Rounds happen.',
    });
    expect([desk.standing().awayUntilMs, skipped(desk)]).toEqual([undefined, false]);
  });

  it('a longer absence undone leaves the shorter one; back undone is away again', () => {
    const desk = deskOf(minis('t1'));
    tell(desk, away('away-1', 20), view(noon));
    tell(desk, away('away-2', 40), view(noon + MIN));
    expect(tell(desk, undo('away-1'), view(noon + 2 * MIN)).answer.code).toBe('over-already');
    expect(tell(desk, undo('away-2'), view(noon + 3 * MIN)).answer.sentence).toBe(
      'Undone: away until 20:00.',
    );
    tell(desk, { do: 'back', ref: 'back-1' }, view(noon + HOUR));
    tell(desk, undo('back-1'), view(noon + HOUR + MIN));
    expect(desk.standing().awayUntilMs).toBe(MIDNIGHT + 20 * HOUR);
  });

  it('is refused when the absence is over', () => {
    const desk = deskOf(minis('t1'));
    tell(desk, away('away-1', 13), view(noon));
    desk.decide(view(noon + 2 * HOUR));
    expect(tell(desk, undo('away-1'), view(noon + 2 * HOUR)).answer.code).toBe('over-already');
  });
});
