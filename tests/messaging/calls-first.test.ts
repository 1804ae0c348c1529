import { describe, expect, it } from 'vitest';
import { farmTopics } from '../../shared/wire/topics.js';
import { callsFirst, dispatchOf } from '../../src/messaging/outbox/fact-messages.js';
import type { Fact } from '../../src/monitor/ports/facts.js';
import { alarmFact, desksCall } from './facts.js';

const topics = farmTopics('alder-row');

function kindsOf(facts: readonly Fact[]): readonly string[] {
  const messages = facts.flatMap((fact, i) => {
    const dispatch = dispatchOf(fact, topics, () => `m${i}`);
    return dispatch.way === 'durable' ? dispatch.messages : [];
  });
  const sent = callsFirst(messages, facts);
  expect([...sent].sort((a, b) => messages.indexOf(a) - messages.indexOf(b))).toEqual(messages);
  return sent.map(({ kind }) => kind);
}

describe('the messages of one turn', () => {
  it('begin with the call and its sentence: people do not wait for retained alarms to be kept', () => {
    const facts = [
      alarmFact('t1', 'unacknowledged'),
      alarmFact('t2', 'unacknowledged'),
      desksCall(['t1', 't2']),
    ];
    expect(kindsOf(facts)).toEqual(['call', 'say-call', 'alarm', 'alarm']);
  });

  it('keep their order when an alarm ends too: what waits is held against what came after it', () => {
    const facts = [alarmFact('t1', 'normal'), alarmFact('t1', 'unacknowledged'), desksCall(['t1'])];
    expect(kindsOf(facts)).toEqual(['alarm', 'alarm', 'call', 'say-call']);
  });
});
