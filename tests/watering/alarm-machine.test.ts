import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type AlarmState, alarmStateSchema } from '../../shared/facts/alarm.js';
import { type AlarmEvent, isSetAside, nextAlarmState } from '../../src/watering/desk/alarm-machine.js';

/**
 * Transition table of ANSI/ISA-18.2 (IEC 62682) as published in the state documentation of an open alarm library
 * (know-ai/PyAutomation, docs/Developments_Guide/API/alarms/states.md at cf82ae6): NORM, UNACK, ACKED, RTNUN, SHLVD, DSUPR, OOSRV.
 */
const published: readonly (readonly [AlarmState, AlarmEvent, AlarmState])[] = [
  ['normal', 'condition-on', 'unacknowledged'],
  ['unacknowledged', 'acknowledge', 'acknowledged'],
  ['unacknowledged', 'condition-off', 'returned-to-normal-unacknowledged'],
  ['acknowledged', 'condition-off', 'normal'],
  ['returned-to-normal-unacknowledged', 'acknowledge', 'normal'],
  ['returned-to-normal-unacknowledged', 'condition-on', 'unacknowledged'],
  ...(['normal', 'unacknowledged', 'acknowledged', 'returned-to-normal-unacknowledged'] as const).flatMap(
    (from) =>
      [
        [from, 'shelve', 'shelved'],
        [from, 'suppress', 'suppressed-by-design'],
        [from, 'take-out-of-service', 'out-of-service'],
      ] as const,
  ),
  ...(['shelved', 'suppressed-by-design', 'out-of-service'] as const).flatMap(
    (from) =>
      [
        [from, 'release-clear', 'normal'],
        [from, 'release-active', 'unacknowledged'],
      ] as const,
  ),
];
const events: readonly AlarmEvent[] = [
  'condition-on',
  'condition-off',
  'acknowledge',
  'shelve',
  'suppress',
  'take-out-of-service',
  'release-active',
  'release-clear',
];

describe('nextAlarmState()', () => {
  it.each(published)('%s, %s: %s', (from, event, to) => {
    expect(nextAlarmState(from, event)).toBe(to);
  });

  it('knows no transition beside the published ones', () => {
    const pairs = new Set(published.map(([from, event]) => `${from}/${event}`));
    for (const from of alarmStateSchema.options)
      for (const event of events)
        if (!pairs.has(`${from}/${event}`))
          expect(nextAlarmState(from, event), `${from}/${event}`).toBeUndefined();
  });

  it('never lets an alarm that is set aside speak before it is released', () => {
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...events)), (sequence) => {
        let state: AlarmState = 'normal';
        for (const event of sequence) {
          const next = nextAlarmState(state, event);
          if (isSetAside(state) && next !== undefined) expect(event).toMatch(/^release-/);
          state = next ?? state;
        }
      }),
    );
  });
});
