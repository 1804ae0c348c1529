import { describe, expect, it } from 'vitest';
import { unitsSchema } from '../../shared/config/notices.js';
import type { AlarmTransition } from '../../shared/facts/alarm.js';
import { type CallMessage, callMessageSchema } from '../../shared/wire/messages.js';
import type { WaitingCall } from '../../src/messaging/outbox/call-truth.js';
import { waitingCallAfter } from '../../src/messaging/outbox/waiting-call.js';
import { wirePayload } from '../../src/messaging/outbox/wire-payload.js';
import { createSpeech } from '../../src/watering/sentences/speech.js';
import { quietCall } from './facts.js';

const { say } = createSpeech({ timeZone: 'Europe/Berlin', units: unitsSchema.parse({}) });
const ended = (kind: AlarmTransition['kind'], of: Partial<AlarmTransition>): AlarmTransition => ({
  at: '2026-04-18T05:30:00Z',
  kind,
  state: 'normal',
  ...of,
});

/** The call as it goes out after these transitions, one after the other. */
function callAfter(...transitions: readonly AlarmTransition[]): CallMessage {
  let waiting: WaitingCall = { ...quietCall().call, id: 'c1' };
  for (const transition of transitions) waiting = waitingCallAfter(waiting, transition) ?? waiting;
  const sent = wirePayload({ kind: 'call', payload: JSON.stringify(waiting) }, say);
  return callMessageSchema.parse(JSON.parse(sent));
}

describe('a call after the quiet hours that waits for the broker', () => {
  it('is said again without what has ended', () => {
    expect(callAfter().sentence).toBe(
      'After the quiet hours: the cover is still on t1 and t2 on bench south, long after germination; probe moist-t3 is not to be trusted. More on the page.',
    );
    expect(callAfter(ended('cover', { tray: 't1' }))).toMatchObject({
      trays: ['t2'],
      about: [
        { kind: 'cover', of: 't2' },
        { kind: 'probe', of: 'moist-t3' },
      ],
      sentence:
        'After the quiet hours: the cover is still on t2 on bench south, long after germination; probe moist-t3 is not to be trusted. More on the page.',
    });
  });

  it('is an ordinary call when one matter is left', () => {
    const left = callAfter(ended('cover', { tray: 't1' }), ended('cover', { tray: 't2' }));
    expect(left).toMatchObject({ kind: 'probe', trays: [], about: [{ kind: 'probe', of: 'moist-t3' }] });
    expect(left.sentence).toMatch(/^Probe moist-t3 has sent nothing/);
  });

  it('is over when nothing is left, and not changed by what it is not about', () => {
    const all = [
      ended('cover', { tray: 't1' }),
      ended('cover', { tray: 't2' }),
      ended('probe', { source: 'moist-t3' }),
    ];
    expect(callAfter(...all).over).toBe(true);
    expect(callAfter(ended('dry', { tray: 't1' }), ended('probe', { source: 'moist-t1' }))).toEqual(
      callAfter(),
    );
  });
});
