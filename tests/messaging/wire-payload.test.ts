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
