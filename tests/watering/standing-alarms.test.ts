import { describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import type { WateringDesk } from '../../src/watering/desk/watering-desk.js';
import { deskOf, minis, tell } from './desk-of.js';
import { calls, states, watch } from './desk-watched.js';
import { HOUR, MIDNIGHT, MIN, view } from './helpers.js';

const night = MIDNIGHT + 21 * HOUR;

describe('wet, cover and temperature', () => {
  it('calls for germinated blocks that stay as wet as just watered for a day, and not under a cover', () => {
    const germinated = { germinatedAt: toInstant(MIDNIGHT) };
    const wet = () => ({ waterContent: 0.61 });
    const far = new Map([['t1', MIDNIGHT + 500 * HOUR]]);
    const bare = watch(deskOf([{ id: 't1', more: germinated }]), far, MIDNIGHT, 30, wet);
    expect(states(bare, 'wet')).toEqual(['unacknowledged']);
    const covered = deskOf([{ id: 't1', more: { ...germinated, cover: 'film' } }]);
    expect(states(watch(covered, far, MIDNIGHT, 30, wet), 'wet')).toEqual(['suppressed-by-design']);
    tell(covered, { do: 'cover', tray: 't1', cover: 'none' }, view(MIDNIGHT + 30 * HOUR));
    expect(states(watch(covered, far, MIDNIGHT + 30 * HOUR, 1, wet), 'wet')).toEqual(['unacknowledged']);
  });

  it('calls for a cover that is on long after germination, and for one that nobody has confirmed for days', () => {
    const far = new Map([['t1', MIDNIGHT + 999 * HOUR]]);
    const left = watch(
      deskOf([{ id: 't1', more: { cover: 'loose-dome', germinatedAt: toInstant(MIDNIGHT) } }]),
      far,
      MIDNIGHT,
      40,
    );
    expect(calls(left)[0]?.sentence).toBe(
      'Bench south: the cover is still on tray t1, long after germination. Take it off.',
    );
    const forgotten = watch(deskOf([{ id: 't1', more: { cover: 'loose-dome' } }]), far, MIDNIGHT, 130);
    expect(calls(forgotten)[0]?.sentence).toMatch(
      /is the cover still on tray t1, and have the seeds germinated/,
    );
  });

  it('calls for a bench outside its limits after ten minutes, and not for one without limits', () => {
    const desk = deskOf([]);
    const cold = new Map([
      ['south', 2],
      ['north', 2],
    ]);
    const effects = [0, 10, 20].flatMap((minute) =>
      desk.decide(view(MIDNIGHT + minute * MIN, [], { temperatureC: cold })),
    );
    expect(calls(effects).map(({ sentence }) => sentence)).toEqual([
      'Bench south is too cold (2.0 °C). Close it up or heat it.',
    ]);
    const mild = [30, 40, 50].flatMap((minute) =>
      desk.decide(view(MIDNIGHT + minute * MIN, [], { temperatureC: new Map([['south', 9]]) })),
    );
    expect(states(mild, 'temperature')).toEqual(['returned-to-normal-unacknowledged']);
  });
});

describe('the watchman`s own parts', () => {
  const health = (ok: boolean, board = true) => [
    { kind: 'probe' as const, source: 'moist-t1', ok, reason: ok ? 'ok' : 'silent' },
    { kind: 'board' as const, source: 'board-1', ok: board, reason: board ? 'ok' : 'silent' },
  ];
  const look = (desk: WateringDesk, minutes: readonly number[], part: ReturnType<typeof health>) =>
    minutes.flatMap((minute) => desk.decide(view(MIDNIGHT + minute * MIN, [], { health: part })));

  it('a dead probe is called after its delay', () => {
    const effects = look(deskOf([]), [0, 10, 20], health(false));
    expect(calls(effects).map(({ sentence }) => sentence)).toEqual([
      'Probe moist-t1 has sent nothing since about 00:00. Look at its plug and cable. Until then the model alone watches tray t1.',
    ]);
  });

  it('a silent board speaks for its probes: theirs are suppressed by design', () => {
    const desk = deskOf([]);
    const effects = look(desk, [0, 10, 20], health(false, false));
    expect(calls(effects).map(({ kind }) => kind)).toEqual(['board']);
    expect(states(effects, 'probe')).toEqual(['suppressed-by-design']);
    expect(states(look(desk, [30, 40, 50], health(true, true)), 'probe')).toEqual(['normal']);
  });

  it('a part that is no longer reported is over', () => {
    const desk = deskOf([]);
    look(desk, [0, 10], health(false));
    expect(states(look(desk, [20, 30, 40], []), 'probe')).toEqual(['returned-to-normal-unacknowledged']);
  });
});

describe('shelving and service', () => {
  it('a shelved alarm says nothing until its end, then speaks if it still stands', () => {
    const desk = deskOf(minis('t1'));
    const dry = new Map([['t1', MIDNIGHT + 27 * HOUR]]);
    watch(desk, dry, night, 2.5);
    const until = toInstant(night + 5 * HOUR);
    const { answer, effects } = tell(
      desk,
      { do: 'shelve', kind: 'refill', of: 't1', until, by: 'Ben' },
      view(night + 3 * HOUR),
    );
    expect(answer.sentence).toBe('refill t1: later, at 02:00.');
    expect(states(effects, 'refill')).toEqual(['shelved']);
    const meanwhile = watch(desk, dry, night + 3 * HOUR, 2);
    expect(calls(meanwhile).filter(({ kind }) => kind === 'refill')).toEqual([]);
    expect(states(watch(desk, dry, night + 5 * HOUR, 0.2), 'refill')).toEqual(['unacknowledged']);
  });

  it('an alarm out of service stays silent until it is put in service', () => {
    const desk = deskOf(minis('t1'));
    tell(desk, { do: 'out-of-service', kind: 'refill', of: 't1' }, view(night));
    const dry = new Map([['t1', MIDNIGHT + 27 * HOUR]]);
    expect(states(watch(desk, dry, night, 4), 'refill')).toEqual([]);
    const { effects } = tell(desk, { do: 'in-service', kind: 'refill', of: 't1' }, view(night + 4 * HOUR));
    expect(states(effects, 'refill')).toEqual(['unacknowledged']);
  });
});
