import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  applyAlarmEvent,
  observeCondition,
  quietAlarm,
  type RawCondition,
  releaseAlarm,
  resolveAlarm,
} from '../../src/watering/desk/alarm-record.js';
import { HOUR, MIDNIGHT, MIN } from './helpers.js';

const delays = { onDelayMs: 10 * MIN, offDelayMs: HOUR };

describe('observeCondition()', () => {
  it('raises only after the condition has held for the on-delay', () => {
    const alarm = quietAlarm('probe', 'moist-t1', MIDNIGHT);
    expect(observeCondition(alarm, 'on', delays, MIDNIGHT)).toBeUndefined();
    expect(observeCondition(alarm, 'on', delays, MIDNIGHT + 9 * MIN)).toBeUndefined();
    expect(observeCondition(alarm, 'on', delays, MIDNIGHT + 10 * MIN)?.to).toBe('unacknowledged');
  });

  it('starts the on-delay anew when the condition falls back into the deadband', () => {
    const alarm = quietAlarm('probe', 'moist-t1', MIDNIGHT);
    observeCondition(alarm, 'on', delays, MIDNIGHT);
    observeCondition(alarm, 'between', delays, MIDNIGHT + 5 * MIN);
    observeCondition(alarm, 'on', delays, MIDNIGHT + 6 * MIN);
    expect(observeCondition(alarm, 'on', delays, MIDNIGHT + 12 * MIN)).toBeUndefined();
    expect(alarm.state).toBe('normal');
  });

  it('lets the on-delay run while the condition is coming, and raises when it may be said', () => {
    const alarm = quietAlarm('refill', 't1', MIDNIGHT);
    observeCondition(alarm, 'coming', delays, MIDNIGHT);
    expect(observeCondition(alarm, 'coming', delays, MIDNIGHT + HOUR)).toBeUndefined();
    expect(alarm.state).toBe('normal');
    expect(observeCondition(alarm, 'on', delays, MIDNIGHT + HOUR + MIN)?.to).toBe('unacknowledged');
    expect(alarm.sinceMs).toBe(MIDNIGHT);
  });

  it('starts the off-delay anew when the condition seems to come again', () => {
    const alarm = quietAlarm('refill', 't1', MIDNIGHT);
    observeCondition(alarm, 'on', { ...delays, onDelayMs: 0 }, MIDNIGHT);
    observeCondition(alarm, 'off', delays, MIDNIGHT + MIN);
    observeCondition(alarm, 'coming', delays, MIDNIGHT + 30 * MIN);
    expect(observeCondition(alarm, 'off', delays, MIDNIGHT + 70 * MIN)).toBeUndefined();
    expect(alarm.state).toBe('unacknowledged');
  });

  it('never changes state more often than its delays allow, however the condition flickers', () => {
    const raw = fc.constantFrom<RawCondition>('on', 'coming', 'off', 'between');
    fc.assert(
      fc.property(fc.array(raw, { minLength: 1, maxLength: 400 }), (flicker) => {
        const alarm = quietAlarm('temperature', 'south', MIDNIGHT);
        let lastMs = Number.NEGATIVE_INFINITY;
        flicker.forEach((condition, minute) => {
          const nowMs = MIDNIGHT + minute * MIN;
          if (observeCondition(alarm, condition, delays, nowMs) === undefined) return;
          expect(nowMs - lastMs).toBeGreaterThanOrEqual(delays.onDelayMs);
          lastMs = nowMs;
        });
      }),
    );
  });

  it('follows the condition while the alarm is shelved, so that its release knows it', () => {
    const alarm = quietAlarm('dry', 't1', MIDNIGHT);
    applyAlarmEvent(alarm, 'shelve', MIDNIGHT);
    observeCondition(alarm, 'on', delays, MIDNIGHT);
    expect(observeCondition(alarm, 'on', delays, MIDNIGHT + HOUR)).toBeUndefined();
    expect(releaseAlarm(alarm, MIDNIGHT + 2 * HOUR)?.to).toBe('unacknowledged');
  });
});

describe('resolveAlarm()', () => {
  it('goes through acknowledged to normal, as the standard has no shorter way', () => {
    const alarm = quietAlarm('refill', 't1', MIDNIGHT);
    observeCondition(alarm, 'on', { onDelayMs: 0, offDelayMs: HOUR }, MIDNIGHT);
    expect(resolveAlarm(alarm, MIDNIGHT + HOUR).map(({ to }) => to)).toEqual(['acknowledged', 'normal']);
  });

  it('leaves a shelved alarm shelved, with its condition clear', () => {
    const alarm = quietAlarm('refill', 't1', MIDNIGHT);
    observeCondition(alarm, 'on', { onDelayMs: 0, offDelayMs: HOUR }, MIDNIGHT);
    applyAlarmEvent(alarm, 'shelve', MIDNIGHT);
    expect(resolveAlarm(alarm, MIDNIGHT + HOUR)).toEqual([]);
    expect(releaseAlarm(alarm, MIDNIGHT + 2 * HOUR)?.to).toBe('normal');
  });
});
