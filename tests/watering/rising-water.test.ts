import { describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import { memoryOf, restoreState } from '../../src/watering/desk/desk-state.js';

import { deskOf, type HeardDesk, minis, tell } from './desk-of.js';
import { calls, states, watch } from './desk-watched.js';
import { forecast, HOUR, MIDNIGHT, MIN, only, view } from './helpers.js';

const eveningMs = MIDNIGHT + 21 * HOUR;
const pouredMs = MIDNIGHT + 25 * HOUR;
const dryMs = MIDNIGHT + 26 * HOUR;

function begin(desk: HeardDesk, atMs: number, risenM3PerM3 = 0.08) {
  const nowMs = atMs + 20 * MIN;
  return desk.noticed(
    { kind: 'watering-begun', trayId: 't1', atMs, noticedAtMs: nowMs, risenM3PerM3 },
    view(nowMs, [forecast('t1', nowMs, 1, { waterContent: 0.4 })]),
  );
}

function end(desk: HeardDesk, atMs: number, takenUpMl: number, filled = true) {
  const nowMs = atMs + 80 * MIN;
  return desk.noticed(
    { kind: 'watering-detected', trayId: 't1', atMs, noticedAtMs: nowMs, takenUpMl, takenUpSdMl: 20, filled },
    view(nowMs, [forecast('t1', nowMs, 20, { waterContent: 0.55 })]),
  );
}

/** A desk whose refill alarm about t1 stands. */
function called(): HeardDesk {
  const desk = deskOf(minis('t1'));
  expect(states(watch(desk, new Map([['t1', dryMs]]), eveningMs, 4), 'refill')).toEqual(['unacknowledged']);
  return desk;
}

describe('water that a probe begins to show', () => {
  it('ends the alarm at once, is told, and its amount follows as the same watering', () => {
    const desk = called();
    const begun = begin(desk, pouredMs);
    expect(states(begun, 'refill')).toEqual(['acknowledged', 'normal']);
    const [first] = only(begun, 'watering');
    expect(first?.watering).toEqual({ at: toInstant(pouredMs), tray: 't1', source: 'detected' });
    const [second] = only(end(desk, pouredMs, 540), 'watering');
    expect(second?.watering).toEqual({ ...first?.watering, ml: 540, takenUpMl: 540, amends: true });
  });

  it('ends nothing while it may be a flicker', () => {
    const desk = called();
    expect(states(begin(desk, pouredMs, 0.03), 'refill')).toEqual([]);
    expect(states(end(desk, pouredMs, 540), 'refill')).toEqual(['acknowledged', 'normal']);
  });

  it('holds calls back while the blocks drink, three quarters of an hour from the pour', () => {
    const desk = called();
    begin(desk, pouredMs);
    const after = watch(desk, new Map([['t1', dryMs]]), pouredMs + 30 * MIN, 4);
    const [call] = calls(after);
    const waitedMin = (Date.parse(call?.at ?? '') - pouredMs) / MIN;
    expect(waitedMin).toBeGreaterThanOrEqual(45);
    expect(waitedMin).toBeLessThan(60);
  });

  it('and that dry blocks drink slowly is doubted before the rise is over, less once they are wet through', () => {
    const doubt = (desk: HeardDesk): number =>
      memoryOf(restoreState(desk.snapshot()), 't1').shortfall?.probability ?? 0;
    const [slow, quick] = [0.015, 0.06].map((risenM3PerM3) => {
      const desk = called();
      watch(desk, new Map([['t1', pouredMs - HOUR]]), pouredMs - 20 * MIN, 0.4);
      begin(desk, pouredMs, risenM3PerM3);
      return desk;
    }) as [HeardDesk, HeardDesk];
    const doubted = doubt(slow);
    expect(doubted).toBeGreaterThan(0.4);
    expect(doubt(quick)).toBeLessThan(0.1);
    end(slow, pouredMs, 540);
    expect(doubt(slow)).toBeLessThan(doubted);
    expect(doubt(slow)).toBeGreaterThan(0);
  });

  it('lets a tray that took up little be called as soon as that is known', () => {
    const desk = called();
    begin(desk, pouredMs);
    end(desk, pouredMs, 60, false);
    const [call] = calls(watch(desk, new Map([['t1', dryMs]]), pouredMs + 80 * MIN, 2));
    expect(Date.parse(call?.at ?? '') - pouredMs).toBeLessThan(2 * HOUR);
  });

  it('keeps a due tray from being called not watered when the round is over', () => {
    const noticeMs = MIDNIGHT + 16.75 * HOUR;
    const roundMs = MIDNIGHT + 18 * HOUR;
    const lasts = new Map([['t1', MIDNIGHT + 29 * HOUR]]);
    const unseen = deskOf(minis('t1'));
    const seen = deskOf(minis('t1'));
    for (const desk of [unseen, seen])
      desk.roundNotice(roundMs, view(noticeMs, [forecast('t1', noticeMs, 12.25)]));
    begin(seen, roundMs + 80 * MIN);
    const from = roundMs + 100 * MIN;
    expect(calls(watch(unseen, lasts, from, 1)).map(({ kind }) => kind)).toEqual(['refill']);
    expect(calls(watch(seen, lasts, from, 1))).toEqual([]);
  });

  it('that was told already is not told again, and ends what was raised in between', () => {
    const desk = called();
    tell(desk, { do: 'watered', tray: 't1', by: 'Ana' }, view(pouredMs - 30 * MIN));
    watch(desk, new Map([['t1', pouredMs - HOUR]]), pouredMs - 10 * MIN, 0.3);
    const begun = begin(desk, pouredMs);
    expect(only(begun, 'watering')).toEqual([]);
    expect(states(begun, 'refill').concat(states(begun, 'dry'))).toContain('normal');
  });
});
