import { describe, expect, it } from 'vitest';
import { counted, probabilityWatered, startingHabit } from '../../src/watering/desk/grower-habit.js';

import { deskOf, type HeardDesk, minis, tell } from './desk-of.js';
import { forecast, HOUR, MIDNIGHT, only, view } from './helpers.js';

const round = MIDNIGHT + 18 * HOUR;
const ids = ['t1', 't2', 't3'];

function at(nowMs: number, medianH = 12): ReturnType<typeof view> {
  return view(
    nowMs,
    ids.map((id) => forecast(id, nowMs, medianH, { basis: id === 't1' ? 'probe' : 'shared' })),
  );
}
function noticed(): HeardDesk {
  const desk = deskOf(minis(...ids));
  desk.roundNotice(round, at(round - 1.25 * HOUR));
  return desk;
}
function probeShows(desk: HeardDesk): void {
  desk.noticed(
    {
      kind: 'watering-detected',
      trayId: 't1',
      atMs: round + 600_000,
      noticedAtMs: round + HOUR,
      takenUpMl: 500,
      takenUpSdMl: 20,
      filled: true,
    },
    at(round + HOUR),
  );
}
const settled = (desk: HeardDesk) => desk.decide(at(round + 2 * HOUR));
const probabilities = (desk: HeardDesk) =>
  only(settled(desk), 'perhaps-watered').map(({ probability }) => probability);

describe('trays nobody told about', () => {
  it('on a bench that was evidently watered are carried as perhaps watered, and asked about once', () => {
    const desk = noticed();
    probeShows(desk);
    const effects = settled(desk);
    expect(only(effects, 'perhaps-watered').map(({ trayId, atMs }) => [trayId, atMs])).toEqual([
      ['t2', round],
      ['t3', round],
    ]);
    expect(only(effects, 'ask').map(({ sentence }) => sentence)).toEqual([
      'Bench south: were t2 and t3 watered at the 18:00 round? They are carried as perhaps watered until somebody tells: watered, or how they look.',
    ]);
    expect(only(desk.decide(at(round + 3 * HOUR)), 'ask')).toEqual([]);
    const morning = MIDNIGHT + 31 * HOUR;
    const notice = only(desk.roundNotice(morning, at(morning - 1.25 * HOUR, 10)), 'round-notice')[0]?.notice;
    expect(
      notice?.due.filter(({ perhapsWatered }) => perhapsWatered === true).map(({ tray }) => tray),
    ).toEqual(['t2', 't3']);
    expect(notice?.sentence).toContain('Look before you pour: nobody said whether t2 and t3 were watered.');
  });

  it('are asked about at the first round that lists them, though an earlier one passed in silence', () => {
    const desk = deskOf(minis(...ids));
    const morning = MIDNIGHT + 7 * HOUR;
    const lasting = (nowMs: number) => at(nowMs, 60);
    desk.roundNotice(morning, lasting(morning - 1.25 * HOUR));
    expect(only(desk.decide(lasting(morning + 2 * HOUR)), 'ask')).toEqual([]);
    const evening = only(desk.roundNotice(round, at(round - 1.25 * HOUR)), 'round-notice')[0]?.notice;
    expect(evening?.due.map(({ tray }) => tray)).toEqual(ids);
    expect(evening?.sentence).not.toContain('Look before you pour');
    expect(only(settled(desk), 'ask').map(({ trays }) => trays)).toEqual([['t2', 't3']]);
  });

  it('are more likely watered where the bench`s probe shows it than where it shows the opposite', () => {
    const watered = noticed();
    probeShows(watered);
    expect(Math.min(...probabilities(watered))).toBeGreaterThan(Math.max(...probabilities(noticed())));
  });

  it('are certain once somebody tells, also of what was left out', () => {
    const desk = noticed();
    tell(desk, { do: 'round-done', except: ['t3'] }, at(round + HOUR));
    expect(only(settled(desk), 'perhaps-watered')).toEqual([]);
  });

  it('are not carried on when somebody says afterwards that they were left out', () => {
    const desk = noticed();
    settled(desk);
    const said = tell(desk, { do: 'round-done', except: ['t3'] }, at(round + 2.5 * HOUR));
    expect(only(said.effects, 'not-watered')).toEqual([{ kind: 'not-watered', trayId: 't3', atMs: round }]);
  });

  it('are not asked about at a round that did not happen', () => {
    const desk = noticed();
    tell(desk, { do: 'away', until: '2026-04-19T06:00:00Z' }, at(round - HOUR));
    expect(settled(desk).filter(({ kind }) => kind === 'ask' || kind === 'perhaps-watered')).toEqual([]);
  });
});

describe('probabilityWatered()', () => {
  it('falls as this grower turns out to tell of every watering', () => {
    let habit = startingHabit;
    const before = probabilityWatered(habit, true, { watered: 1, of: 1 });
    for (let i = 0; i < 30; i++) habit = { ...habit, told: counted(habit.told, true) };
    expect(probabilityWatered(habit, true, { watered: 1, of: 1 })).toBeLessThan(before / 2);
  });
});
