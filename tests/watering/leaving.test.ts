import { describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import { createWateringDesk } from '../../src/watering/create-watering-desk.js';

import { deskOf, type HeardDesk, heard, minis, tell } from './desk-of.js';
import { calls, states, watch } from './desk-watched.js';
import { farm, forecast, HOUR, MIDNIGHT, view } from './helpers.js';

/** Before the 18:00 round, which would be in time for both trays. */
const leavingMs = MIDNIGHT + 16 * HOUR;
const backMs = MIDNIGHT + 23 * HOUR;
const dry = new Map([
  ['t1', MIDNIGHT + 19 * HOUR],
  ['t2', MIDNIGHT + 45 * HOUR],
]);

/** Says "away", and is told which trays may not last. */
function leave(desk: HeardDesk): string {
  const forecasts = [...dry].map(([id, dryMs]) => forecast(id, leavingMs, (dryMs - leavingMs) / HOUR));
  return tell(desk, { do: 'away', ref: 'gone', until: toInstant(backMs) }, view(leavingMs, forecasts)).answer
    .sentence;
}

describe('who goes away', () => {
  const away = (
    desk: HeardDesk,
    forecasts: Parameters<typeof view>[1],
    temperatures?: ReadonlyMap<string, number>,
  ) =>
    tell(
      desk,
      { do: 'away', until: toInstant(backMs) },
      {
        ...view(leavingMs, forecasts),
        ...(temperatures === undefined ? {} : { temperatureC: temperatures }),
      },
    ).answer.sentence;
  const lasts = (id: string, basis: 'probe' | 'shared' | 'prior') => forecast(id, leavingMs, 60, { basis });

  it('is told that nothing stands there, not that every tray will last', () => {
    expect(away(deskOf([]), [])).toBe('Away until 23:00. No tray stands on the benches.');
  });

  it('is told which trays have no forecast, and of which nothing is measured', () => {
    const desk = deskOf(minis('t1', 't2', 't3'));
    expect(away(desk, [lasts('t1', 'probe'), lasts('t3', 'prior')], new Map())).toBe(
      'Away until 23:00. No forecast yet of t2: look before you go. Nothing measures at t3: by what such blocks usually do they should last, but look before you go. The others should last until then.',
    );
    expect(
      away(
        desk,
        ['t1', 't2', 't3'].map((id) => lasts(id, 'prior')),
        new Map([['south', 21]]),
      ),
    ).toBe('Away until 23:00. Every tray should last until then.');
  });

  it('is told which trays may not last, and is not called about them at once; their alarms stay open', () => {
    const desk = deskOf(minis('t1', 't2'));
    watch(desk, dry, leavingMs - HOUR, 1);
    expect(leave(desk)).toBe(
      'Away until 23:00. Water before you go, these may not last: t1. The others should last until then.',
    );
    const effects = watch(desk, dry, leavingMs, 1);
    expect(states(effects, 'refill')).toEqual(['unacknowledged']);
    expect(calls(effects)).toEqual([]);
  });

  it('is called all the same when it gets worse, and when it is dry', () => {
    const desk = deskOf(minis('t1', 't2'));
    watch(desk, dry, leavingMs - HOUR, 1);
    leave(desk);
    const [worse, ...later] = calls(watch(desk, dry, leavingMs, 6));
    expect(worse).toMatchObject({ kind: 'refill', trays: ['t1'], again: true });
    expect(Date.parse(worse?.at ?? '')).toBeGreaterThanOrEqual(leavingMs + HOUR);
    expect(later.map(({ kind, trays }) => [kind, trays])).toContainEqual(['dry', ['t1']]);
  });

  it('is called about a tray that the answer did not name, and about a named one whose turn comes later', () => {
    const desk = deskOf(minis('t1', 't2'));
    leave(desk);
    const sooner = new Map([...dry, ['t2', MIDNIGHT + 20 * HOUR]]);
    expect(calls(watch(desk, sooner, leavingMs, 2))[0]?.trays).toContain('t2');
    const other = deskOf(minis('t1', 't2'));
    leave(other);
    const longer = new Map([...dry, ['t1', MIDNIGHT + 22 * HOUR]]);
    expect(calls(watch(other, longer, leavingMs, 4))[0]).toMatchObject({ trays: ['t1'], again: false });
  });

  it('and says "back" is called as ever', () => {
    const desk = deskOf(minis('t1'));
    leave(desk);
    const soon = new Map([['t1', leavingMs + 1.5 * HOUR]]);
    tell(desk, { do: 'back' }, view(leavingMs));
    expect(calls(watch(desk, soon, leavingMs, 1))[0]).toMatchObject({ trays: ['t1'], again: false });
  });

  it('and is watched by a monitor that starts anew meanwhile is not called either', () => {
    const desk = deskOf(minis('t1', 't2'));
    watch(desk, dry, leavingMs - HOUR, 1);
    leave(desk);
    const restarted = heard(createWateringDesk(farm(), desk.snapshot()));
    expect(calls(watch(restarted, dry, leavingMs, 1))).toEqual([]);
  });
});
