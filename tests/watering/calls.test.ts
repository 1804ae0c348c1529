import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { unitsSchema } from '../../shared/config/notices.js';
import type { DeskEffect } from '../../src/watering/desk/watering-desk.js';
import { callSentence } from '../../src/watering/sentences/english/call.js';
import { SEVERAL_REASONS } from '../../src/watering/sentences/said/desk-sentences.js';
import { createSpeech } from '../../src/watering/sentences/speech.js';
import { deskOf, minis, type Put, tell } from './desk-of.js';
import { calls, states, watch } from './desk-watched.js';
import { forecast, HOUR, MIDNIGHT, MIN, view } from './helpers.js';

const night = MIDNIGHT + 21 * HOUR;

describe('a refill call', () => {
  it('comes hours before a tray dries that will not reach the coming round', () => {
    const dryMs = MIDNIGHT + 28 * HOUR;
    const [call] = calls(watch(deskOf(minis('t1')), new Map([['t1', dryMs]]), night, 8));
    expect(call).toMatchObject({ kind: 'refill', bench: 'south', trays: ['t1'], again: false });
    const aheadH = (dryMs - Date.parse(call?.at ?? '')) / HOUR;
    expect(aheadH).toBeGreaterThan(2);
    expect(aheadH).toBeLessThan(6);
  });

  it('does not come for a tray that will reach it', () => {
    expect(watch(deskOf(minis('t1')), new Map([['t1', MIDNIGHT + 40 * HOUR]]), night, 9)).toEqual([]);
  });

  it('ends with the watering: acknowledged, normal; the next one is a new transition', () => {
    const desk = deskOf(minis('t1'));
    const before = watch(desk, new Map([['t1', MIDNIGHT + 26 * HOUR]]), night, 4);
    expect(states(before, 'refill')).toEqual(['unacknowledged']);
    const watered = MIDNIGHT + 25 * HOUR;
    const told = tell(desk, { do: 'watered', tray: 't1', by: 'Ana' }, view(watered));
    expect(states(told.effects, 'refill')).toEqual(['acknowledged', 'normal']);
    const after = watch(desk, new Map([['t1', MIDNIGHT + 54 * HOUR]]), watered, 28);
    expect(states(after, 'refill')).toEqual(['unacknowledged']);
  });

  it('ends when a probe shows the watering, but not with a flicker of it', () => {
    const desk = deskOf(minis('t1'));
    watch(desk, new Map([['t1', MIDNIGHT + 26 * HOUR]]), night, 4);
    const nowMs = MIDNIGHT + 25 * HOUR;
    const rise = (takenUpMl: number) =>
      desk.noticed(
        {
          kind: 'watering-detected',
          trayId: 't1',
          atMs: nowMs,
          noticedAtMs: nowMs,
          takenUpMl,
          takenUpSdMl: 10,
          filled: false,
        },
        view(nowMs, [forecast('t1', nowMs, 1, { waterContent: 0.38 })]),
      );
    expect(states(rise(20), 'refill')).toEqual([]);
    expect(states(rise(300), 'refill')).toEqual(['acknowledged', 'normal']);
  });

  it('comes after the grace when a due tray evidently was not watered, and says so', () => {
    const desk = deskOf(minis('t1'));
    const notice = MIDNIGHT + 16.75 * HOUR;
    const dry = new Map([['t1', MIDNIGHT + 29 * HOUR]]);
    desk.roundNotice(MIDNIGHT + 18 * HOUR, view(notice, [forecast('t1', notice, 12.25)]));
    expect(calls(watch(desk, dry, MIDNIGHT + 17 * HOUR, 2.9))).toEqual([]);
    const [call] = calls(watch(desk, dry, MIDNIGHT + 20 * HOUR, 1));
    expect(call?.sentence).toMatch(
      /^Bench south: t1 is due and has not been watered\. Water tray t1 \(celery\) of minis, about \d+ mL\./,
    );
  });

  it('is never kept back by a germination cover', () => {
    const covered: readonly Put[] = [{ id: 't1', more: { cover: 'tight-dome' } }];
    const effects = watch(deskOf(covered), new Map([['t1', MIDNIGHT + 27 * HOUR]]), night, 8);
    expect(states(effects, 'refill')).toEqual(['unacknowledged']);
    expect(states(effects, 'dry')).toEqual(['unacknowledged']);
  });
});

describe('calls of one bench and moment', () => {
  it('are one call, and name the trays', () => {
    const effects = watch(
      deskOf(minis('t1', 't2', 't3')),
      new Map(['t1', 't2', 't3'].map((id, i) => [id, MIDNIGHT + (27 + i / 6) * HOUR])),
      night,
      4,
    );
    const made = calls(effects);
    expect(made.filter(({ again }) => !again)).toHaveLength(1);
    expect(made[0]?.trays).toHaveLength(3);
  });

  it('are one summary in a heat wave: forty trays on three benches, one message, and one more when nobody comes', () => {
    const benches = [{ id: 'south' }, { id: 'north' }, { id: 'east' }];
    const trays = Array.from(
      { length: 40 },
      (_, i): Put => ({ id: `h${i}`, bench: benches[i % 3]?.id ?? 'south' }),
    );
    const dry = new Map(trays.map(({ id }, i) => [id, MIDNIGHT + (15 + (i % 7) / 7) * HOUR]));
    const made = calls(watch(deskOf(trays, { benches }), dry, MIDNIGHT + 10 * HOUR, 4));
    expect(made.length).toBeLessThanOrEqual(2);
    expect(made[0]?.bench).toBeUndefined();
    expect(made[0]?.trays).toHaveLength(40);
    expect(made[0]?.sentence).toMatch(/^40 trays will not last until the 18:00 round: \d+ on /);
  });

  it('are a few summaries when in a heat wave nobody comes: trays that dry one by one are told together', () => {
    const trays = Array.from(
      { length: 40 },
      (_, i): Put => ({ id: `h${i}`, bench: i % 2 ? 'north' : 'south' }),
    );
    const dry = new Map(trays.map(({ id }, i) => [id, MIDNIGHT + (12 + (i % 20) / 5) * HOUR]));
    const made = calls(watch(deskOf(trays), dry, MIDNIGHT + 9 * HOUR, 8));
    const firstDryMs = MIDNIGHT + 12 * HOUR;
    const ofDry = made.filter(({ kind }) => kind === 'dry');
    expect(Date.parse(ofDry[0]?.at ?? '') - firstDryMs).toBeLessThanOrEqual(HOUR);
    expect(made.length).toBeLessThanOrEqual(7);
    expect(new Set(ofDry.flatMap((call) => call.trays)).size).toBe(40);
  });

  it('say which trays are dry and which only will be', () => {
    const dry = (at: readonly number[]) =>
      new Map(at.map((hour, i) => [`t${i + 1}`, MIDNIGHT + hour * HOUR]));
    const two = [...minis('t1'), { id: 't2', bench: 'north' }];
    const sentences = (trays: readonly Put[], hours: readonly number[]) =>
      calls(watch(deskOf(trays), dry(hours), MIDNIGHT + 10 * HOUR, 0.5)).map(({ sentence }) => sentence);
    expect(sentences(two, [10, 11.5])).toEqual([
      '1 of 2 trays has dry blocks, the other needs water before the 18:00 round: 1 on south, 1 on north. First: t1 and t2.',
    ]);
    expect(sentences(minis('t1', 't2'), [10, 11.5])[0]).toMatch(
      /^Bench south: dry blocks in t1\. Water now, in small pours: 2 trays of minis, /,
    );
  });

  it('that the risk makes before the middle of the forecast say "may", and no hour that contradicts them', () => {
    const said = (reason: string, dryH: number, earliestH: number): string =>
      callSentence(createSpeech({ timeZone: 'UTC', units: unitsSchema.parse({}) }).words, {
        nowMs: night,
        kind: 'refill',
        reason,
        trays: ['t1', 't2'].map((id) => ({
          id,
          benchId: 'south',
          blockSideMm: 19,
          dryAtMs: night + dryH * HOUR,
          earliestDryAtMs: night + earliestH * HOUR,
        })),
        of: 't1',
        others: ['t2'],
        again: false,
        comingRoundMs: night + 10 * HOUR,
      });
    expect(said('will-not-reach-round', 15, 5.4)).toBe(
      'Bench south: t1 and t2 may not last until the 07:00 round. Water 2 trays of minis. They may be dry as early as about 02:20.',
    );
    expect(said('will-not-reach-round', 15, 11)).toMatch(/may not last .* minis\.$/);
    expect(said('will-not-reach-round', 9, 5)).toMatch(
      /will not last .* They would be dry at about 06:00\.$/,
    );
    expect(said(SEVERAL_REASONS, 9, 5)).toMatch(
      /^Bench south: t1 and t2 need water before the 07:00 round\./,
    );
  });

  it('are repeated only while nobody has seen them and things get worse', () => {
    const dry = new Map([['t1', MIDNIGHT + 14 * HOUR]]);
    const morning = MIDNIGHT + 9 * HOUR;
    const unseen = calls(watch(deskOf(minis('t1')), dry, morning, 8));
    expect(unseen.some(({ again }) => again)).toBe(true);
    expect(unseen.find(({ again }) => again)?.sentence).toMatch(/^Again: Bench south/);
    const desk = deskOf(minis('t1'));
    const first = watch(desk, dry, morning, 2.5);
    expect(calls(first)).toHaveLength(1);
    tell(desk, { do: 'acknowledge' }, view(morning + 2.5 * HOUR));
    expect(calls(watch(desk, dry, morning + 2.5 * HOUR, 2)).filter(({ kind }) => kind === 'refill')).toEqual(
      [],
    );
  });

  it('are one call for several benches, with every tray that may need water before the round', () => {
    const desk = deskOf([...minis('t1'), { id: 't2', bench: 'north' }, { id: 't3', bench: 'north' }]);
    const dry = new Map([
      ['t1', MIDNIGHT + 14 * HOUR],
      ['t2', MIDNIGHT + 19 * HOUR],
      ['t3', MIDNIGHT + 40 * HOUR],
    ]);
    const made = calls(watch(desk, dry, MIDNIGHT + 9 * HOUR, 3));
    expect(made.map(({ trays }) => trays)).toEqual([['t1', 't2']]);
    expect(made[0]?.sentence).toMatch(
      /^2 trays will not last until the 18:00 round: 1 on south, 1 on north\./,
    );
  });
});

describe('a call by night', () => {
  it('asks for more at stake than one by day: nobody is got up for what is lost with small chance', () => {
    // a wide forecast: little is expected to be lost within the hours that a call looks ahead
    const leftH = 6.5;
    const raised = (nowMs: number) => {
      const desk = deskOf(minis('t1'));
      const effects = [0, 10].flatMap((minute) => {
        const atMs = nowMs + minute * MIN;
        return desk.decide(view(atMs, [forecast('t1', atMs, leftH, { spread: 0.9 })]));
      });
      return states(effects, 'refill');
    };
    expect(raised(MIDNIGHT + 10 * HOUR)).toEqual(['unacknowledged']);
    expect(raised(MIDNIGHT + 23 * HOUR)).toEqual([]);
  });
});

describe('trays that are listed', () => {
  const round = MIDNIGHT + 18 * HOUR;
  const left = (nowMs: number, dryMs: number) =>
    view(nowMs, [forecast('t1', nowMs, (dryMs - nowMs) / HOUR, { basis: 'shared' })]);

  it('are not called while the grower is on the way or at the benches, and are when the round is over', () => {
    const desk = deskOf(minis('t1'));
    const dry = round + 0.5 * HOUR;
    desk.roundNotice(round, left(round - 1.25 * HOUR, dry));
    const during: DeskEffect[] = [];
    for (let nowMs = round - HOUR; nowMs < round + 2 * HOUR; nowMs += 10 * MIN)
      during.push(...desk.decide(left(nowMs, dry)));
    expect(calls(during)).toEqual([]);
    const after = [120, 130, 140].flatMap((minute) => desk.decide(left(round + minute * MIN, dry)));
    expect(calls(after).map(({ kind, trays }) => [kind, trays])).toEqual([['dry', ['t1']]]);
  });

  it('are not called a second time while they are listed, though they got worse since the first call', () => {
    const desk = deskOf(minis('t1'));
    const early = Array.from({ length: 12 }, (_, i) => round - 4 * HOUR + i * 10 * MIN);
    const first = early.flatMap((nowMs) => desk.decide(left(nowMs, round)));
    expect(calls(first)).toHaveLength(1);
    const worse = round + 10 * MIN;
    desk.roundNotice(round, left(round - 1.25 * HOUR, worse));
    const during = Array.from({ length: 17 }, (_, i) => round - HOUR + i * 10 * MIN);
    expect(calls(during.flatMap((nowMs) => desk.decide(left(nowMs, worse))))).toEqual([]);
  });

  it('are called at once, listed or not, when they were watered for the round and still dry out', () => {
    const desk = deskOf(minis('t1'));
    const dry = round + 2.4 * HOUR;
    desk.roundNotice(round, left(round - 1.25 * HOUR, dry));
    tell(desk, { do: 'watered', tray: 't1' }, left(round, dry));
    const made = [60, 70, 80, 90].flatMap((minute) => desk.decide(left(round + minute * MIN, dry)));
    expect(calls(made).map(({ kind }) => kind)).toEqual(['refill']);
  });
});

describe('an alarm that stood through a round', () => {
  it('is opened anew when nobody can say whether its tray was watered, and raised again while the tray needs it', () => {
    const desk = deskOf(minis('t1'));
    const round = MIDNIGHT + 18 * HOUR;
    const dry = MIDNIGHT + 16 * HOUR;
    const at = (nowMs: number) =>
      view(nowMs, [forecast('t1', nowMs, Math.max(0, (dry - nowMs) / HOUR), { basis: 'shared' })]);
    const before: DeskEffect[] = [];
    for (let nowMs = MIDNIGHT + 9 * HOUR; nowMs < round; nowMs += 10 * MIN) {
      if (nowMs === round - 80 * MIN) before.push(...desk.roundNotice(round, at(nowMs)));
      before.push(...desk.decide(at(nowMs)));
    }
    expect(states(before, 'dry')).toEqual(['unacknowledged']);
    const settled = desk.decide(at(round + 2 * HOUR));
    expect(states(settled, 'dry')).toEqual(['returned-to-normal-unacknowledged']);
    const after = [130, 140, 150].flatMap((minute) => desk.decide(at(round + minute * MIN)));
    expect(states(after, 'dry')).toEqual(['unacknowledged']);
    expect(calls(after)).toHaveLength(1);
  });

  it('and is not when it came up after the round had begun: that call is news, and is not made twice', () => {
    const desk = deskOf(minis('t1'));
    const round = MIDNIGHT + 18 * HOUR;
    const dry = round + 80 * MIN;
    const at = (nowMs: number) =>
      view(nowMs, [forecast('t1', nowMs, Math.max(0, (dry - nowMs) / HOUR), { basis: 'shared' })]);
    desk.roundNotice(
      round,
      view(round - 75 * MIN, [forecast('t1', round - 75 * MIN, 60, { basis: 'shared' })]),
    );
    const seen: DeskEffect[] = [];
    for (let nowMs = round + 10 * MIN; nowMs <= round + 3 * HOUR; nowMs += 10 * MIN)
      seen.push(...desk.decide(at(nowMs)));
    expect(states(seen, 'dry')).toEqual(['unacknowledged']);
  });

  it('and is not when the watering was told: that has ended it', () => {
    const desk = deskOf(minis('t1'));
    const round = MIDNIGHT + 18 * HOUR;
    const at = (nowMs: number) => view(nowMs, [forecast('t1', nowMs, 0, { basis: 'shared' })]);
    for (let nowMs = round - 3 * HOUR; nowMs < round - 80 * MIN; nowMs += 10 * MIN) desk.decide(at(nowMs));
    desk.roundNotice(round, at(round - 75 * MIN));
    const told = tell(desk, { do: 'watered', tray: 't1' }, at(round + 10 * MIN));
    expect(states(told.effects, 'dry')).toEqual(['acknowledged', 'normal']);
    const settled = desk.decide(view(round + 2 * HOUR, [forecast('t1', round + 2 * HOUR, 30)]));
    expect(states(settled, 'dry')).toEqual([]);
  });
});

describe('a noisy probe', () => {
  it('makes no chatter: at most one call and one return however the forecast jumps', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.6, max: 1.7, noNaN: true }), { minLength: 36, maxLength: 36 }),
        (noise) => {
          const desk = deskOf(minis('t1'));
          const seen: string[] = [];
          noise.forEach((factor, i) => {
            const nowMs = night + i * 10 * MIN;
            const left = ((MIDNIGHT + 31 * HOUR - nowMs) / HOUR) * factor;
            seen.push(...states(desk.decide(view(nowMs, [forecast('t1', nowMs, left)])), 'refill'));
          });
          expect(seen.filter((state) => state === 'unacknowledged').length).toBeLessThanOrEqual(1);
        },
      ),
      { numRuns: 60 },
    );
  });
});
