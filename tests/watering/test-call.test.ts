import { describe, expect, it } from 'vitest';
import type { DeskEffect, DeskView, WateringDesk } from '../../src/watering/desk/watering-desk.js';
import { deskOf, minis, tell } from './desk-of.js';
import { HOUR, MIDNIGHT, MIN, only, view } from './helpers.js';

const noon = MIDNIGHT + 12 * HOUR;
const secret = `whsec_${Buffer.from('twenty-four bytes of it!').toString('base64')}`;
const withGateway = { messaging: { webhooks: [{ id: 'sms', url: 'http://127.0.0.1:9/', secret }] } };
const silent = [{ kind: 'probe' as const, source: 'moist-t1', ok: false, reason: 'silent' }];

/** A probe alarm stands and waits to be seen. */
function withAlarm(desk: WateringDesk): DeskView {
  const at = (minute: number) => view(noon + minute * MIN, [], { health: silent });
  for (const minute of [0, 10, 20]) desk.decide(at(minute));
  return at(30);
}

describe('a test call', () => {
  it('goes out by every way, each with its own sentence that says it is a test', () => {
    const { answer, effects } = tell(
      deskOf(minis('t1'), withGateway),
      { do: 'test-call', ref: 'test-1', by: 'Ana' },
      view(noon),
    );
    expect(answer).toMatchObject({ ok: true, sentence: 'A test call goes out by mqtt, sms.' });
    expect(only(effects, 'test-call')).toEqual([
      {
        kind: 'test-call',
        at: '2026-04-18T12:00:00Z',
        test: 'test-1',
        by: 'Ana',
        ways: ['mqtt', 'sms'],
        bareSeen: true,
      },
    ]);
    const { testCall } = deskOf([]).say;
    expect(testCall({ farm: 'alder-row', way: 'sms', bareSeen: true })).toBe(
      'Test call of alder-row by sms: nothing is wrong. To answer, press "seen" or type: drybell call --seen sms',
    );
  });

  it('never enters the alarm book', () => {
    const desk = deskOf(minis('t1'));
    const told = tell(desk, { do: 'test-call' }, view(noon));
    const later = [5, 10, 60].flatMap((minute) => desk.decide(view(noon + minute * MIN)));
    const kinds = [...told.effects, ...later].map((effect: DeskEffect) => effect.kind);
    expect(kinds).toEqual(['test-call']);
    expect(desk.standing().alarms).toEqual([]);
  });

  it('is answered once by each way; then none waits', () => {
    const desk = deskOf(minis('t1'), withGateway);
    tell(desk, { do: 'test-call', ref: 'test-1' }, view(noon));
    const seen = (way: string) => tell(desk, { do: 'test-seen', way, by: 'Ben' }, view(noon + MIN));
    expect(only(seen('sms').effects, 'test-seen')).toMatchObject([{ test: 'test-1', way: 'sms', by: 'Ben' }]);
    expect(desk.standing().test).toEqual({ atMs: noon, ways: ['mqtt'] });
    expect(seen('sms').answer).toMatchObject({ ok: false, code: 'no-test' });
    expect(seen('mqtt').answer).toMatchObject({ ok: true, sentence: 'Seen: the test call by mqtt.' });
    expect(desk.standing().test).toBeUndefined();
    expect(seen('mqtt').answer.code).toBe('no-test');
  });

  it('waits for a day and no longer', () => {
    const desk = deskOf(minis('t1'));
    tell(desk, { do: 'test-call' }, view(noon));
    desk.decide(view(noon + 24 * HOUR));
    expect(desk.standing().test).toEqual({ atMs: noon, ways: ['mqtt'] });
    desk.decide(view(noon + 24 * HOUR + 10 * MIN));
    expect(desk.standing().test).toBeUndefined();
  });

  it('refuses a way by which nothing goes out', () => {
    const desk = deskOf(minis('t1'), withGateway);
    tell(desk, { do: 'test-call' }, view(noon));
    expect(tell(desk, { do: 'test-seen', way: 'pager' }, view(noon)).answer).toMatchObject({
      ok: false,
      code: 'unknown-way',
      sentence: 'Calls do not go out by "pager". Name one of mqtt, sms.',
    });
  });

  it('is answered by a plain "seen" when no alarm waits', () => {
    const desk = deskOf(minis('t1'));
    tell(desk, { do: 'test-call', ref: 'test-1' }, view(noon));
    const { answer, effects } = tell(desk, { do: 'acknowledge', by: 'button b1' }, view(noon + MIN));
    expect(answer.sentence).toBe('Seen: the test call.');
    expect(effects).toMatchObject([{ kind: 'test-seen', test: 'test-1', by: 'button b1' }]);
    expect(tell(desk, { do: 'acknowledge' }, view(noon + MIN)).answer.code).toBe('not-active');
  });

  it('does not ask for a plain "seen" while an alarm waits, and does not take it for an answer', () => {
    const desk = deskOf(minis('t1'));
    const now = withAlarm(desk);
    const { effects } = tell(desk, { do: 'test-call' }, now);
    expect(only(effects, 'test-call')).toMatchObject([{ bareSeen: false }]);
    expect(desk.say.testCall({ farm: 'alder-row', way: 'mqtt', bareSeen: false })).toContain(
      'To answer type: drybell call',
    );
    const seen = tell(desk, { do: 'acknowledge' }, now);
    expect(only(seen.effects, 'test-seen')).toEqual([]);
    expect(only(seen.effects, 'alarm')).toMatchObject([{ transition: { state: 'acknowledged' } }]);
    expect(tell(desk, { do: 'test-seen' }, now).answer.ok).toBe(true);
  });

  it('is forgotten after a day, and outlives a restart until then', () => {
    const desk = deskOf(minis('t1'));
    tell(desk, { do: 'test-call' }, view(noon));
    expect(desk.snapshot()).toMatchObject({ test: { atMs: noon, seenWays: [] } });
    expect(tell(desk, { do: 'test-seen' }, view(noon + 25 * HOUR)).answer.code).toBe('no-test');
  });
});
