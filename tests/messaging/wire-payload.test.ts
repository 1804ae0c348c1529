import { describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import type { Language } from '../../shared/base/language.js';
import { unitsSchema } from '../../shared/config/notices.js';
import { farmTopics } from '../../shared/wire/topics.js';
import { type DurableMessage, dispatchOf } from '../../src/messaging/outbox/fact-messages.js';
import { wirePayload } from '../../src/messaging/outbox/wire-payload.js';
import type { Fact } from '../../src/monitor/ports/facts.js';
import { createSpeech } from '../../src/watering/sentences/speech.js';
import { callFact, desksCall, quietCall, roundFactOf, START_MS } from './facts.js';

const topics = farmTopics('alder-row');
const sayIn = (language: Language) =>
  createSpeech({ language, timeZone: 'Europe/Berlin', units: unitsSchema.parse({}) }).say;

const { notice } = roundFactOf(['t1', 't2']);
const { sentence: _, ...bareNotice } = notice;
/** What the desk decides that people are told of. */
const decided: readonly Fact[] = [
  desksCall(['t1']),
  quietCall(),
  { kind: 'round-notice', notice: { ...bareNotice, said: { nowMs: START_MS } } },
  {
    kind: 'ask',
    at: toInstant(START_MS),
    trays: ['t1'],
    said: { nowMs: START_MS, benchId: 'south', roundMs: START_MS },
  },
  {
    kind: 'alarm',
    transition: {
      at: toInstant(START_MS),
      kind: 'dry',
      state: 'unacknowledged',
      tray: 't1',
      reason: 'dry-now',
      said: { nowMs: START_MS, holds: true, tray: { id: 't1', benchId: 'south', blockSideMm: 19 } },
    },
  },
];

const waitingOf = (fact: Fact): readonly DurableMessage[] => {
  const dispatch = dispatchOf(fact, topics, () => 'm1');
  return dispatch.way === 'durable' ? dispatch.messages : [];
};

describe('what is told to people', () => {
  it.each(decided)('waits as data and goes out in the language that the farm has then: $kind', (fact) => {
    for (const message of waitingOf(fact)) {
      expect(message.payload).not.toMatch(/"sentence"/);
      const [english, spanish] = (['en', 'es'] as const).map((one) => wirePayload(message, sayIn(one)));
      expect(english).not.toBe(spanish);
      for (const sent of [english ?? '', spanish ?? '']) {
        expect(sent).not.toMatch(/"said"/);
        const sentence = message.kind.startsWith('say') ? sent : JSON.parse(sent).sentence;
        expect(sentence).toMatch(/t1.*\.|\?/);
      }
    }
  });

  it('an answer waits as data too, and says in the language that the farm has then whether it is on the disk', () => {
    const said = [
      'watered',
      { atMs: 0, nowMs: 0, trays: ['t1'], before: [], again: [], leftOut: [] },
    ] as const;
    const answer = {
      ref: 'w1',
      at: '2026-04-18T05:00:00Z',
      ok: true,
      code: 'done',
      kept: false,
      said,
    } as const;
    const [message] = waitingOf({ kind: 'answer', answer });
    if (message === undefined) throw new Error('an answer is told');
    expect(message.payload).not.toMatch(/"sentence"/);
    expect(JSON.parse(wirePayload(message, sayIn('en'))).sentence).toMatch(
      /^Watered at .*: t1\. Not on the disk yet/,
    );
    expect(JSON.parse(wirePayload(message, sayIn('es'))).sentence).toMatch(/t1.*Aún no está en el disco/);
  });

  it('what is absent in what is said stays absent over the disk', () => {
    const said = ['noTrayStands', undefined] as const;
    const answer = { ref: 'w1', at: '2026-04-18T05:00:00Z', ok: false, code: 'no-such-trays', said } as const;
    const [message] = waitingOf({ kind: 'answer', answer });
    expect(message && JSON.parse(wirePayload(message, sayIn('en'))).sentence).toBe('No tray stands.');
  });

  it('a note of the house is put into words where it leaves; what somebody wrote stays', () => {
    const at = '2026-04-18T05:00:00Z';
    const house = waitingOf({ kind: 'note', at, by: 'monitor', said: ['keptAfterAll'] });
    const theirs = waitingOf({ kind: 'note', at, by: 'Ana', text: 'vents open' });
    const [own, written] = [...house, ...theirs].map((one) => JSON.parse(wirePayload(one, sayIn('es'))));
    expect(own).toMatchObject({ by: 'monitor', text: expect.stringMatching(/ya está en el disco/) });
    expect(written).toMatchObject({ by: 'Ana', text: 'vents open' });
  });

  it('says alone what the record says', () => {
    const [record, alone] = waitingOf(desksCall(['t1'])).map((message) => wirePayload(message, sayIn('en')));
    expect(JSON.parse(record ?? '').sentence).toBe(alone);
  });

  it('keeps the sentence of an earlier version, of which nothing else is known', () => {
    const told = waitingOf(callFact(['t1'], 'Water t1 now.'));
    const sent = told.map((message) => wirePayload(message, sayIn('es')));
    expect(JSON.parse(sent[0] ?? '')).toMatchObject({ trays: ['t1'], sentence: 'Water t1 now.' });
    expect(sent[1]).toBe('Water t1 now.');
    expect(wirePayload({ kind: 'say-call', payload: 'Water t1 now.' }, sayIn('es'))).toBe('Water t1 now.');
  });
});
