import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type AlarmState, alarmTransitionSchema, callSchema } from '../../shared/facts/alarm.js';
import { wateringSchema } from '../../shared/facts/watering.js';
import type { Command } from '../../shared/wire/command.js';
import { createWateringDesk } from '../../src/watering/create-watering-desk.js';
import { nextAlarmState } from '../../src/watering/desk/alarm-machine.js';
import type { DeskEffect, WateringDesk } from '../../src/watering/desk/watering-desk.js';
import { deskOf, heard, minis } from './desk-of.js';
import { farm, forecast, HOUR, MIDNIGHT, MIN, view } from './helpers.js';

const ids = ['t1', 't2', 't3'];

type Step =
  | {
      readonly do: 'decide' | 'notice' | 'detected';
      readonly hours: readonly number[];
      readonly afterMin: number;
    }
  | {
      readonly do: 'command';
      readonly command: Command;
      readonly hours: readonly number[];
      readonly afterMin: number;
    };

const hours = fc.array(fc.double({ min: 0, max: 40, noNaN: true }), { minLength: 3, maxLength: 3 });
const afterMin = fc.integer({ min: 1, max: 240 });
const tray = fc.constantFrom(...ids);
const by = fc.constantFrom('Ana', 'Ben');
const command: fc.Arbitrary<Command> = fc.oneof(
  fc.record({ do: fc.constant('watered' as const), tray, by }),
  fc.record({ do: fc.constant('round-done' as const), except: fc.constant<string[]>([]), by }),
  fc.record({ do: fc.constant('acknowledge' as const), by }),
  fc.record({
    do: fc.constant('looked' as const),
    tray,
    level: fc.constantFrom(1 as const, 3 as const, 5 as const),
  }),
  fc.record({
    do: fc.constant('cover' as const),
    tray,
    cover: fc.constantFrom('none' as const, 'film' as const),
  }),
  fc.record({
    do: fc.constant('out-of-service' as const),
    kind: fc.constantFrom('dry' as const, 'refill' as const),
    of: tray,
  }),
  fc.record({
    do: fc.constant('in-service' as const),
    kind: fc.constantFrom('dry' as const, 'refill' as const),
    of: tray,
  }),
  fc.record({ do: fc.constant('undo' as const), undo: fc.constantFrom('s1', 's2', 's3') }),
);
const step: fc.Arbitrary<Step> = fc.oneof(
  fc.record({
    do: fc.constantFrom('decide' as const, 'notice' as const, 'detected' as const),
    hours,
    afterMin,
  }),
  fc.record({ do: fc.constant('command' as const), command, hours, afterMin }),
);

function take(desk: WateringDesk, one: Step, index: number, nowMs: number): readonly DeskEffect[] {
  const now = view(
    nowMs,
    ids.map((id, i) => forecast(id, nowMs, one.hours[i] ?? 10, { basis: i === 0 ? 'probe' : 'shared' })),
  );
  switch (one.do) {
    case 'decide':
      return desk.decide(now);
    case 'notice':
      return desk.roundNotice(now.rounds.after(nowMs, 1)[0] ?? nowMs, now);
    case 'detected':
      return desk.noticed(
        {
          kind: 'watering-detected',
          trayId: 't1',
          atMs: nowMs - 20 * MIN,
          noticedAtMs: nowMs,
          takenUpMl: 300,
          takenUpSdMl: 20,
          filled: true,
        },
        now,
      );
    case 'command':
      return desk.command(one.command, `s${index}`, now).effects;
  }
}

describe('any run of the desk', () => {
  const run = fc.array(step, { minLength: 1, maxLength: 25 });

  it('goes on bit for bit the same after a restart at any moment', () => {
    fc.assert(
      fc.property(run, fc.nat(), (steps, cut) => {
        const restartAt = cut % steps.length;
        const desk = deskOf(minis(...ids));
        let restarted = deskOf(minis(...ids));
        let nowMs = MIDNIGHT + 5 * HOUR;
        steps.forEach((one, index) => {
          nowMs += one.afterMin * MIN;
          if (index === restartAt)
            restarted = heard(createWateringDesk(farm(), JSON.parse(JSON.stringify(restarted.snapshot()))));
          expect(JSON.stringify(take(restarted, one, index, nowMs))).toBe(
            JSON.stringify(take(desk, one, index, nowMs)),
          );
        });
        expect(JSON.stringify(restarted.snapshot())).toBe(JSON.stringify(desk.snapshot()));
      }),
      { numRuns: 50 },
    );
  });

  it('says only what the contract knows, and moves every alarm along the standard`s transitions', () => {
    const moves: readonly Parameters<typeof nextAlarmState>[1][] = [
      'condition-on',
      'condition-off',
      'acknowledge',
      'shelve',
      'suppress',
      'take-out-of-service',
      'release-active',
      'release-clear',
    ];
    fc.assert(
      fc.property(run, (steps) => {
        const desk = deskOf(minis(...ids));
        const states = new Map<string, AlarmState>();
        let nowMs = MIDNIGHT + 5 * HOUR;
        steps.forEach((one, index) => {
          nowMs += one.afterMin * MIN;
          for (const effect of take(desk, one, index, nowMs)) {
            if (effect.kind === 'call') callSchema.parse(effect.call);
            if (effect.kind === 'watering') wateringSchema.parse(effect.watering);
            if (effect.kind !== 'alarm') continue;
            const { kind, tray: of, state } = alarmTransitionSchema.parse(effect.transition);
            const from = states.get(`${kind}/${of}`) ?? 'normal';
            expect(moves.map((move) => nextAlarmState(from, move))).toContain(state);
            states.set(`${kind}/${of}`, state);
          }
        });
      }),
      { numRuns: 50 },
    );
  });
});

describe('createWateringDesk()', () => {
  it('throws RangeError for something that is not a snapshot', () => {
    expect(() => createWateringDesk(farm(), { version: 7 })).toThrow(RangeError);
  });
});
