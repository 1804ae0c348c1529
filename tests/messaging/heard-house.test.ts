import { describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import { housesAnswerSchema } from '../../shared/page/page-houses.js';
import { HeardHouse } from '../../src/messaging/retained/heard-house.js';

const NOW_MS = Date.parse('2026-05-15T12:00:00Z');
const HOUR_MS = 3_600_000;
const at = (hours: number): string => toInstant(NOW_MS + hours * HOUR_MS);
const status = (hours: number): string => JSON.stringify({ online: true, at: at(hours), drive: 'live' });
const forecast = (tray: string, hours: number, p50: number | null): string =>
  JSON.stringify({
    at: at(hours),
    tray,
    waterContentM3PerM3: 0.5,
    hoursToRefill: { p10: null, p50: null, p90: null },
    hoursToRefillDriestTenth: { p10: p50, p50, p90: p50 },
  });
const alarm = (state: string): string =>
  JSON.stringify({ id: 'a1', at: at(-2), kind: 'dry', state, tray: 't1', sentence: 't1 is dry.' });

describe('a house heard over its broker', () => {
  const heard = (
    messages: readonly (readonly [topic: string, text: string, isRetained: boolean])[],
    nowMs = NOW_MS,
  ) => {
    const house = new HeardHouse({ farm: 'north' }, false);
    for (const [topic, text, isRetained] of messages)
      house.take(`drybell/north/${topic}`, text, isRetained, nowMs);
    const picture = house.picture(nowMs);
    expect(housesAnswerSchema.safeParse({ at: at(0), houses: [picture] }).error).toBeUndefined();
    return picture;
  };

  it('was never heard until its status comes', () => {
    expect(heard([])).toMatchObject({ state: 'never-heard', trayCount: 0, calls: [] });
  });

  it('is as old as the newest of what the broker has retained, by what it says itself', () => {
    const picture = heard([
      ['status', status(-50), true],
      ['forecast/t1', forecast('t1', -0.5, 4), true],
      ['forecast/t2', forecast('t2', -1.5, 2), true],
    ]);
    expect(picture).toMatchObject({ state: 'watching', heardAt: at(-0.5), trayCount: 2 });
    expect(picture.next).toEqual({ tray: 't2', dryAt: at(0.5) });
  });

  it('is silent when it says to be awake and its trays have had no forecast for three hours', () => {
    const old = [
      ['status', status(-50), true],
      ['forecast/t1', forecast('t1', -3.1, 4), true],
    ] as const;
    expect(heard(old)).toMatchObject({ state: 'silent', heardAt: at(-3.1) });
    expect(heard([...old, ['reading/moist-t1', '[]', false]])).toMatchObject({
      state: 'watching',
      heardAt: at(0),
    });
  });

  it('without a tray it has nothing to say by the hour, and is not called silent', () => {
    expect(heard([['status', status(-50), true]])).toMatchObject({ state: 'watching', heardAt: at(-50) });
  });

  it('is stopped by its last will, whose hour is the broker’s and no word of its own', () => {
    const picture = heard([
      ['forecast/t1', forecast('t1', -2, 4), true],
      ['status', JSON.stringify({ online: false, sentence: 'Gone without a word.' }), false],
    ]);
    expect(picture).toMatchObject({ state: 'stopped', heardAt: at(-2), sentence: 'Gone without a word.' });
  });

  it('calls for as long as the alarm stands', () => {
    expect(heard([['alarm/t1/dry', alarm('unacknowledged'), true]]).calls).toMatchObject([
      { tray: 't1', sentence: 't1 is dry.' },
    ]);
    const over = ['alarm/t1/dry', alarm('normal'), false] as const;
    expect(heard([['alarm/t1/dry', alarm('unacknowledged'), true], over]).calls).toEqual([]);
    const cleared = ['alarm/t1/dry', '', false] as const;
    expect(heard([['alarm/t1/dry', alarm('unacknowledged'), true], cleared]).calls).toEqual([]);
  });

  it('a tray that ended is no tray of it any more', () => {
    const gone = ['forecast/t1', '', false] as const;
    expect(heard([['forecast/t1', forecast('t1', 0, 3), true], gone])).toMatchObject({ trayCount: 0 });
  });

  it('counts down its round by the waterings that are heard since the notice', () => {
    const due = [
      { tray: 't1', doseMl: 600 },
      { tray: 't2', doseMl: 500 },
    ];
    const notice = JSON.stringify({ id: 'r1', at: at(-0.5), round: at(0.5), due, canWait: [] });
    const watered = (tray: string, hours: number): string =>
      JSON.stringify({ id: `w-${tray}`, at: at(hours), tray, source: 'logged' });
    const picture = heard([
      ['round', notice, true],
      ['watering/t1', watered('t1', -0.1), false],
      ['watering/t2', watered('t2', -8), false],
    ]);
    expect(picture.round).toEqual({
      round: at(0.5),
      noticeAt: at(-0.5),
      dueCount: 2,
      wateredCount: 1,
      doseMl: 500,
    });
  });

  it('says when it is not understood, and is understood again when it speaks the contract', () => {
    const strange = ['status', '{"online":true,"mood":"fine"}', true] as const;
    expect(heard([strange])).toMatchObject({ isUnclear: true, state: 'never-heard' });
    expect(heard([['round', 'hello', true]])).toMatchObject({ isUnclear: true });
    expect(heard([strange, ['status', status(0), false]])).toMatchObject({
      isUnclear: false,
      state: 'watching',
    });
  });
});
