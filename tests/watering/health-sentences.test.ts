import { describe, expect, it } from 'vitest';
import type { DeskEffect, WatchmanHealth, WateringDesk } from '../../src/watering/desk/watering-desk.js';
import { deskOf, minis, tell } from './desk-of.js';
import { HOUR, MIDNIGHT, MIN, only, view } from './helpers.js';

const noon = MIDNIGHT + 12 * HOUR;
/** A lock screen shows some four lines; longer ones are cut. */
const LOCK_SCREEN_LETTERS = 250;

const well: WatchmanHealth = { kind: 'probe', source: 'moist-t1', ok: true, reason: 'ok' };
const probe = (reason: string, source = 'moist-t1'): WatchmanHealth => ({
  ...well,
  source,
  ok: false,
  reason,
});
const part = (kind: WatchmanHealth['kind'], reason: string, sentence?: string): WatchmanHealth => ({
  kind,
  source: kind === 'board' ? 'b1' : kind,
  ok: false,
  reason,
  ...(sentence === undefined ? {} : { own: ['asItIs', sentence] as const }),
});
const desk = () =>
  deskOf(minis('t1'), {
    probes: [
      { id: 'moist-t1', kind: 'block-moisture', tray: 't1' },
      { id: 'moist-t2', kind: 'block-moisture', tray: 't1' },
      { id: 'temp-south', kind: 'air-temperature', bench: 'south' },
    ],
  });
/** Decides at these minutes after noon. */
const look = (at: WateringDesk, minutes: readonly number[], ...health: readonly WatchmanHealth[]) =>
  minutes.flatMap((minute) => at.decide(view(noon + minute * MIN, [], { health })));
const alarmSentences = (effects: readonly DeskEffect[]) =>
  only(effects, 'alarm').map(({ transition }) => transition.sentence);
const called = (...health: readonly WatchmanHealth[]) => {
  const effects = look(desk(), [0, 10, 20], ...health);
  const said = only(effects, 'call').map(({ call }) => call.sentence ?? '');
  const [first = ''] = said;
  expect(said.every((sentence) => sentence.length <= LOCK_SCREEN_LETTERS)).toBe(true);
  return { first, alarms: alarmSentences(effects) };
};

describe('a call about the watchman itself says what is wrong, since when, and what to do', () => {
  it.each<[WatchmanHealth, string]>([
    [
      probe('silent'),
      'Probe moist-t1 has sent nothing since about 12:00. Look at its plug and cable. Until then the model alone watches tray t1.',
    ],
    [
      probe('out-of-range'),
      'Probe moist-t1 has read what cannot be since about 12:00. Look whether it sits where it should, and whether its cable is whole. Until then the model alone watches tray t1.',
    ],
    [
      probe('flat-line', 'temp-south'),
      'Probe temp-south has been stuck at one value since about 12:00. Look whether it sits where it should; unplug it and plug it in again. Until then the model alone watches bench south.',
    ],
    [
      probe('noisy'),
      'Probe moist-t1 has jumped up and down since about 12:00. Look for a loose or wet plug. Until then the model alone watches tray t1.',
    ],
    [
      part('monitor', 'blind'),
      'The watchman is blind: no probe has sent anything since about 12:00. Go and look at the trays, then at boards and cables.',
    ],
    [
      part(
        'board',
        'unplugged',
        'Board b1 was unplugged or lost power (ENXIO): check its USB cable, hub and supply.',
      ),
      'Board b1 was unplugged or lost power (ENXIO): check its USB cable, hub and supply. No probe on it has been read since about 12:00.',
    ],
    [
      part('store', 'disk-full', '12 facts wait in memory: the disk is full; make room'),
      'The store has not been well since about 12:00. 12 facts wait in memory: the disk is full; make room.',
    ],
    [
      part('broker', 'away', 'the broker mqtt://127.0.0.1:1 is away: nobody listens there; start the broker'),
      'Calls may not have reached you since about 12:00. The broker mqtt://127.0.0.1:1 is away: nobody listens there; start the broker.',
    ],
  ])('%j', (health, sentence) => {
    expect(called(health)).toEqual({ first: sentence, alarms: [sentence] });
  });

  it('several probes with the same trouble are one call', () => {
    expect(called(probe('silent'), probe('silent', 'moist-t2')).first).toBe(
      '2 probes, moist-t1 and moist-t2: each has sent nothing since about 12:00. Look at their plugs and cables. Until then the model alone watches what they watched.',
    );
  });
});

describe('the later life of such an alarm, in words', () => {
  it('over and unseen: what was wrong, from when to when', () => {
    const at = desk();
    look(at, [0, 10], probe('silent'));
    expect(alarmSentences(look(at, [60, 70], well))).toEqual([
      'Over, but nobody has seen it. Probe moist-t1 sent nothing from about 12:00 to 13:10.',
    ]);
    look(at, [80], well);
    expect(at.standing().alarms.map(({ sentence }) => sentence)).toEqual([
      'Over, but nobody has seen it. Probe moist-t1 sent nothing from about 12:00 to 13:10.',
    ]);
    const seen = tell(at, { do: 'acknowledge' }, view(noon + 90 * MIN, [], { health: [well] }));
    expect(alarmSentences(seen.effects)).toEqual(['Done. Probe moist-t1 is well again.']);
  });

  it('seen, later, off: still what is wrong', () => {
    const at = desk();
    look(at, [0, 10], probe('silent'));
    const now = view(noon + 20 * MIN, [], { health: [probe('silent')] });
    const trouble =
      'Probe moist-t1 has sent nothing since about 12:00. Look at its plug and cable. Until then the model alone watches tray t1.';
    const say = (command: Parameters<typeof tell>[1]) => alarmSentences(tell(at, command, now).effects);
    expect(say({ do: 'acknowledge', by: 'Ana' })).toEqual([`Seen by Ana. ${trouble}`]);
    const it = { kind: 'probe', of: 'moist-t1' } as const;
    expect(say({ do: 'shelve', ...it, until: '2026-04-18T18:00:00Z' })).toEqual([
      `Later until 18:00. ${trouble}`,
    ]);
  });

  it('a probe that is silent with its board makes no call of its own', () => {
    const effects = look(desk(), [0, 10, 20], probe('silent'), part('board', 'silent'));
    expect(alarmSentences(effects)).toContain('No call for now. Probe moist-t1 is silent with its board.');
    expect(only(effects, 'call').map(({ call }) => call.sentence ?? '')).toEqual([
      'Board b1 says nothing: press its reset button. No probe on it has been read since about 12:00.',
    ]);
  });

  it('keeps the words of the moment it came up, though counts in them go on', () => {
    const at = desk();
    const away = (count: number) => part('broker', 'away', `it is away; ${count} messages wait`);
    look(at, [0, 10], away(1));
    look(at, [20], away(9));
    expect(at.standing().alarms[0]?.sentence).toContain('1 messages wait');
  });
});
