import { describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import type { Command } from '../../shared/wire/command.js';
import { undoRule } from '../../src/monitor/day/undo-rule.js';
import type { Fact } from '../../src/monitor/ports/facts.js';
import { forecast, HOUR, MIDNIGHT, MIN } from '../watering/helpers.js';
import { alarmsOf, callsOf, type Dictate, DictatedFarm } from './dictated-farm.js';

const noon = MIDNIGHT + 12 * HOUR;
const dryFrom =
  (atMs: number): Dictate =>
  (trayId, nowMs, calls) => {
    const isDry = trayId === 't1' && nowMs >= atMs && !calls.includes('watered t1');
    return forecast(trayId, nowMs, isDry ? 0 : 60, { waterContent: isDry ? 0.36 : 0.55, basis: 'shared' });
  };

/** A farm of which a dry tray was called at noon. */
function called(breaks?: (call: string) => boolean): DictatedFarm {
  const farm = new DictatedFarm(dryFrom(noon), breaks);
  farm.runTo(noon - MIN);
  expect(callsOf(farm.runTo(noon + 40 * MIN))).toEqual([['t1']]);
  return farm;
}

const later: Command = { do: 'shelve', kind: 'dry', of: 't1', until: toInstant(noon + 4 * HOUR) };

describe('the rule that offers an undo', () => {
  const may = (farm: DictatedFarm, ref: string) => undoRule(farm.day)(ref);

  it('knows of a command for a day, and of one that stays why', () => {
    const farm = called();
    farm.tell({ do: 'acknowledge', kind: 'dry', of: 't1' }, 's1');
    farm.tell({ do: 'watered', tray: 't1' }, 'w1');
    const toldMs = farm.day.core.nowMs;
    expect(may(farm, 'w1')).toMatchObject({ untilMs: toldMs + 24 * HOUR });
    expect(may(farm, 's1')).toMatchObject({ stays: { code: 'seen-stays' } });
    expect(farm.undo('s1').answer).toMatchObject({ ok: false, code: 'seen-stays' });
    expect(may(farm, 'nobody')).toBeUndefined();
    farm.runTo(toldMs + 24 * HOUR + MIN);
    expect(may(farm, 'w1')).toBeUndefined();
    expect(farm.undo('w1').answer).toMatchObject({ ok: false, code: 'nothing-to-undo' });
  });

  it('is not asked in vain: what was told carries its ref, what follows from it does not', () => {
    const farm = called();
    const { facts } = farm.tell({ do: 'watered', tray: 't1' }, 'w1');
    const refs = facts.flatMap((fact) => ('ref' in fact ? [`${fact.kind} ${fact.ref}`] : []));
    expect(refs).toEqual(['tray-event w1', 'watering w1']);
    farm.undo('w1');
    expect(may(farm, 'w1')).toBeUndefined();
  });
});

describe('undo', () => {
  it('of a watering: the alarm stands again, nobody is called anew, and no mark is left', () => {
    const never = called();
    const farm = called();
    farm.tell({ do: 'watered', tray: 't1' }, 'w1');
    farm.runTo(noon + 50 * MIN);
    never.runTo(noon + 50 * MIN);
    const { answer, facts } = farm.undo('w1');
    expect(answer).toMatchObject({ ok: true, sentence: 'Undone: watered (t1).' });
    expect(facts.map(({ kind }) => kind)).toContain('tray-event-undone');
    expect(alarmsOf(facts, 'dry')).toEqual(['unacknowledged']);
    expect(farm.states()).toEqual(never.states());
    expect(callsOf(farm.runTo(noon + 80 * MIN))).toEqual([]);
  });

  it('of a watering that kept a tray from being called calls now', () => {
    const farm = new DictatedFarm(dryFrom(noon));
    farm.runTo(noon - HOUR);
    farm.tell({ do: 'watered', tray: 't1' }, 'w1');
    expect(callsOf(farm.runTo(noon + 2 * HOUR))).toEqual([]);
    const { facts } = farm.undo('w1');
    expect(alarmsOf(facts, 'dry')).toEqual(['unacknowledged']);
    expect(callsOf(facts)).toEqual([['t1']]);
    expect(facts.find(({ kind }) => kind === 'call')).toMatchObject({
      call: { at: toInstant(noon + 2 * HOUR) },
    });
  });

  it('tells the notice of a round to come anew when it lists other trays now', () => {
    const dictate: Dictate = (trayId, nowMs, calls) =>
      forecast(trayId, nowMs, calls.includes(`watered ${trayId}`) ? 60 : 9, { basis: 'shared' });
    const farm = new DictatedFarm(dictate, undefined, MIDNIGHT + 14 * HOUR);
    farm.tell({ do: 'watered', tray: 't1' }, 'w1');
    const due = (facts: ReturnType<DictatedFarm['runTo']>) =>
      facts.flatMap((fact) =>
        fact.kind === 'round-notice' ? [fact.notice.due.map(({ tray }) => tray)] : [],
      );
    expect(due(farm.runTo(MIDNIGHT + 17.5 * HOUR))).toEqual([['t2', 't3']]);
    expect(due(farm.undo('w1').facts)).toEqual([['t1', 't2', 't3']]);
  });

  it('of "later" has the call stand as before, by the standard`s transitions', () => {
    const farm = called();
    expect(alarmsOf(farm.tell(later, 'later-1').facts, 'dry')).toEqual(['shelved']);
    farm.runTo(noon + HOUR);
    const { answer, facts } = farm.undo('later-1', 'Ben');
    expect(answer).toMatchObject({ ok: true, sentence: 'Undone: dry t1 is watched again.' });
    expect(alarmsOf(facts, 'dry')).toEqual(['unacknowledged']);
    expect(callsOf(farm.runTo(noon + 80 * MIN))).toEqual([]);
    const seen = called();
    seen.tell({ do: 'acknowledge', kind: 'dry', of: 't1', by: 'Ana' }, 's1');
    seen.tell(later, 'later-1');
    expect(alarmsOf(seen.undo('later-1', 'Ben').facts, 'dry')).toEqual(['unacknowledged', 'acknowledged']);
  });

  it('of "later" is refused while what came after rests on it, and the second time', () => {
    const farm = called();
    farm.tell(later, 'later-1');
    farm.tell({ do: 'unshelve', kind: 'dry', of: 't1' }, 'u1');
    const { answer } = farm.undo('later-1');
    expect(answer).toMatchObject({ ok: false, code: 'later-events' });
    expect(answer?.sentence).toBe('"unshelve" (dry t1) came after it and rests on it. Undo that first.');
    expect(farm.undo('u1').answer?.ok).toBe(true);
    expect(farm.undo('later-1').answer?.ok).toBe(true);
    expect(farm.undo('later-1').answer?.code).toBe('nothing-to-undo');
  });

  it('of "seen" is refused: the standard knows no way back, and nothing changes', () => {
    const farm = called();
    farm.tell({ do: 'acknowledge' }, 's1');
    const before = farm.states();
    const { answer } = farm.undo('s1');
    expect(answer).toMatchObject({ ok: false, code: 'seen-stays' });
    expect(answer?.sentence).toMatch(/IEC 62682.*put it off \("later"\)/);
    expect(farm.states()).toEqual(before);
  });

  it('of "away" strikes its line out of the journal; each of the two has one', () => {
    const farm = called();
    const notes = (facts: readonly Fact[]) => facts.filter(({ kind }) => kind === 'note');
    const told = farm.tell({ do: 'away', until: toInstant(MIDNIGHT + 20 * HOUR), by: 'Ana' }, 'a1');
    expect(notes(told.facts)).toMatchObject([
      { by: 'Ana', ref: 'a1', said: ['awayNote', MIDNIGHT + 20 * HOUR] },
    ]);
    expect(farm.undo('a1').facts).toContainEqual({
      kind: 'note-undone',
      note: expect.objectContaining({ by: 'Ana' }),
    });
    farm.tell({ do: 'away', until: toInstant(MIDNIGHT + 20 * HOUR) }, 'a2');
    expect(notes(farm.tell({ do: 'back' }, 'b1').facts)).toMatchObject([{ said: ['backNote'] }]);
  });

  it('of "away" and "back": rounds happen as they did before', () => {
    const farm = new DictatedFarm(dryFrom(noon + 99 * HOUR));
    const away = (hour: number): Command => ({ do: 'away', until: toInstant(MIDNIGHT + hour * HOUR) });
    farm.runTo(noon);
    farm.tell(away(20), 'a1');
    farm.tell(away(40), 'a2');
    expect(farm.undo('a2').answer?.sentence).toBe('Undone: away until 20:00.');
    farm.tell({ do: 'back' }, 'b1');
    expect(farm.undo('b1').answer?.sentence).toBe('Undone: away until 20:00.');
    expect(farm.undo('a1').answer?.sentence).toBe('Undone: you are not away. Rounds happen.');
    expect(farm.day.core.desk.standing().awayUntilMs).toBeUndefined();
  });

  it('of potting on into a tray that it made takes both events back; of what later events rest on it is refused', () => {
    const farm = new DictatedFarm(dryFrom(noon + 99 * HOUR));
    farm.runTo(noon);
    const before = farm.day.core.desk.trays();
    farm.tell({ do: 'pot-on', tray: 't1', toTray: 't9', blockSideMm: 51 }, 'p1');
    farm.tell({ do: 'watered', tray: 't9' }, 'w1');
    expect(farm.undo('p1').answer).toMatchObject({ ok: false, code: 'later-events' });
    expect(farm.undo('w1').answer?.ok).toBe(true);
    const { facts } = farm.undo('p1');
    expect(facts.flatMap((fact) => (fact.kind === 'tray-event-undone' ? [fact.event.event] : []))).toEqual([
      'new',
      'potted-on',
    ]);
    expect(farm.day.core.desk.trays()).toEqual(before);
  });

  it('reaches a day back and no further', () => {
    const farm = new DictatedFarm(dryFrom(noon + 99 * HOUR));
    farm.tell({ do: 'sown', tray: 't1' }, 's1');
    farm.runTo(MIDNIGHT + 23.9 * HOUR);
    farm.tell({ do: 'sown', tray: 't2' }, 's2');
    farm.runTo(MIDNIGHT + 24.1 * HOUR);
    expect(farm.undo('s1').answer?.code).toBe('nothing-to-undo');
    farm.runTo(MIDNIGHT + 47.8 * HOUR);
    expect(farm.undo('s2').answer?.ok).toBe(true);
  });
});

describe('what our own mistake keeps from being done', () => {
  it.each(['weighed t1', 'end t1', 'add t9'])('has never been: %s', (breaking) => {
    const commands: Readonly<Record<string, Command>> = {
      'weighed t1': { do: 'weighed', tray: 't1', grams: 2000 },
      'end t1': { do: 'pot-on', tray: 't1', toTray: 't9', blockSideMm: 51 },
      'add t9': { do: 'pot-on', tray: 't1', toTray: 't9', blockSideMm: 51 },
    };
    const command = commands[breaking];
    if (command === undefined) throw new Error('no such command');
    const farm = called((call) => call === breaking);
    const before = farm.states();
    const told = farm.tell(command, 'x1');
    expect(told).toEqual({ answer: undefined, facts: [] });
    expect(farm.states()).toEqual(before);
    expect(farm.undo('x1').answer?.code).toBe('nothing-to-undo');
    expect(farm.tell({ do: 'watered', tray: 't1' }, 'w1').answer?.ok).toBe(true);
  });
});

describe('what is told of the past', () => {
  it.each([
    { do: 'looked', tray: 't1', level: 2 },
    { do: 'weighed', tray: 't1', grams: 2000 },
    { do: 'ready-for-water', tray: 't1' },
  ] as const)('a late $do is as if it had been told then', (told) => {
    const command: Command = { ...told, at: toInstant(noon + HOUR) };
    const inTime = called();
    inTime.runTo(noon + HOUR);
    inTime.tell(command, 'l1');
    inTime.runTo(noon + 5 * HOUR);
    const late = called();
    late.runTo(noon + 5 * HOUR);
    const { answer } = late.tell(command, 'l1');
    expect(answer).toMatchObject({ ok: true, at: toInstant(noon + 5 * HOUR) });
    expect(late.states()).toEqual(inTime.states());
  });

  it('a tray said to be left out, when the round had been settled, was never carried as perhaps watered', () => {
    const dictate: Dictate = (trayId, nowMs) => forecast(trayId, nowMs, 9, { basis: 'shared' });
    const round = MIDNIGHT + 18 * HOUR;
    const farm = new DictatedFarm(dictate, undefined, MIDNIGHT + 14 * HOUR);
    farm.runTo(round + 3 * HOUR);
    const perhaps = () =>
      (farm.states() as { model: { calls: string[] } }).model.calls.filter((call) =>
        call.startsWith('perhaps'),
      );
    expect(perhaps()).toContain('perhaps t2');
    const before = farm.states();
    farm.tell({ do: 'round-done', except: ['t2'] }, 'd1');
    expect(perhaps()).not.toContain('perhaps t2');
    farm.undo('d1');
    expect(farm.states()).toEqual(before);
  });
});
