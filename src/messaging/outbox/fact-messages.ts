import { toInstant } from '../../../shared/base/ids.js';
import type { DryDownMessage } from '../../../shared/wire/messages.js';
import type { FarmTopics } from '../../../shared/wire/topics.js';
import type { DryDown } from '../../drying/model/farm-model.js';
import type { Fact, JudgedReading } from '../../monitor/ports/facts.js';
import { endsCall } from './call-truth.js';

/** What kind of thing waits in the outbox: words to people can be overtaken by events, and by which (`judge-waiting`). */
export type WaitingKind =
  | 'alarm'
  | 'call'
  | 'round'
  | 'ask'
  | 'watering'
  | 'tray-event'
  | 'record'
  | 'note'
  | 'answer'
  | 'say-call'
  | 'say-round'
  | 'say-ask'
  | 'test-call'
  | 'say-test'
  | 'clear';

/**
 * A message that must arrive: it goes through the outbox. What is said in it waits as data (`said`); its sentence is made when it is
 * sent, by `wirePayload`.
 */
export interface DurableMessage {
  readonly id: string;
  readonly kind: WaitingKind;
  readonly topic: string;
  readonly payload: string;
  readonly retain: boolean;
}

/** What is said to people in a message: data, or the sentence that an earlier version kept. */
interface Worded {
  readonly said?: object | undefined;
  readonly sentence?: string | undefined;
}

/** Where a fact goes. */
export type Dispatch =
  | { readonly way: 'durable'; readonly messages: readonly DurableMessage[] }
  /** Only the newest matters: retained, told again after a reconnect. */
  | { readonly way: 'latest'; readonly topic: string; readonly payload: string }
  /** Told once or not at all. */
  | { readonly way: 'reading'; readonly reading: JudgedReading }
  /** A test call: `TestCalls` sends it, to each way its own. */
  | { readonly way: 'test'; readonly fact: Extract<Fact, { kind: 'test-call' | 'test-seen' }> }
  /** Kept in the store for the model's sake; nobody outside needs it at once. */
  | { readonly way: 'untold' };

function dryDownMessage(dryDown: DryDown, id: string): DryDownMessage {
  const { trayId, startedAtMs, endedAtMs, refillReachedAtMs, ...rest } = dryDown;
  return {
    id,
    tray: trayId,
    startedAt: toInstant(startedAtMs),
    endedAt: toInstant(endedAtMs),
    ...(refillReachedAtMs === undefined ? {} : { refillReachedAt: toInstant(refillReachedAtMs) }),
    ...rest,
  };
}

/**
 * The messages that tell one fact.
 * @param newId gives a fresh message id, up to 40 letters, digits and dashes
 */
export function dispatchOf(fact: Fact, topics: FarmTopics, newId: () => string): Dispatch {
  const id = newId();
  const durable = (kind: WaitingKind, topic: string, body: object, retain = false): DurableMessage => ({
    id,
    kind,
    topic,
    payload: JSON.stringify(body),
    retain,
  });
  /** The record, and behind it its sentence alone where it says something. */
  const told = (kind: 'call' | 'round' | 'ask', topic: string, body: Worded, retain = false): Dispatch => {
    const whole = { ...body, id };
    const isSilent = body.said === undefined && (body.sentence ?? '') === '';
    const alone = isSilent ? [] : [durable(`say-${kind}`, topics.say, whole)];
    return { way: 'durable', messages: [durable(kind, topic, whole, retain), ...alone] };
  };
  const record = (topic: string, body: object, kind: WaitingKind = 'record'): Dispatch => ({
    way: 'durable',
    messages: [durable(kind, topic, body)],
  });

  switch (fact.kind) {
    case 'reading':
      return { way: 'reading', reading: fact.reading };
    case 'forecast': {
      const { forecast } = fact;
      return { way: 'latest', topic: topics.forecast(forecast.tray), payload: JSON.stringify(forecast) };
    }
    case 'status':
      return { way: 'latest', topic: topics.status, payload: JSON.stringify(fact.status) };
    case 'alarm': {
      const { transition } = fact;
      const of = transition.tray ?? transition.bench ?? transition.source ?? 'monitor';
      const topic = topics.alarm(of, transition.kind);
      return { way: 'durable', messages: [durable('alarm', topic, { ...transition, id }, true)] };
    }
    case 'call':
      return told('call', topics.call, fact.call);
    case 'round-notice':
      return told('round', topics.round, fact.notice, true);
    case 'ask': {
      const { kind: _, ...ask } = fact;
      return told('ask', topics.ask, ask);
    }
    case 'watering':
      return record(topics.watering(fact.watering.tray), { ...fact.watering, id }, 'watering');
    case 'tray-event':
      return record(topics.trayEvent(fact.event.tray), { ...fact.event, id }, 'tray-event');
    case 'tray-event-undone':
      return record(topics.trayEventUndone(fact.event.tray), { ...fact.event, id });
    case 'dry-down':
      return record(topics.dryDown(fact.dryDown.trayId), dryDownMessage(fact.dryDown, id));
    case 'note': {
      const { kind: _, ref: __, ...note } = fact;
      return record(topics.note, { id, ...note }, 'note');
    }
    case 'note-undone':
      return record(topics.note, { id, ...fact.note, undone: true }, 'note');
    case 'test-call':
    case 'test-seen':
      return { way: 'test', fact };
    case 'answer':
      return record(topics.reply(fact.answer.ref), fact.answer, 'answer');
    case 'probe-drift':
      return { way: 'untold' };
  }
}

/**
 * The messages of one turn with the word to people before the alarms behind it: each retained alarm is milliseconds at the disk. A turn
 * in which an alarm also ends or changes hands keeps its order, since what waits is held against the transitions after it.
 */
export function callsFirst(
  messages: readonly DurableMessage[],
  facts: readonly Fact[],
): readonly DurableMessage[] {
  if (facts.some((fact) => fact.kind === 'alarm' && endsCall(fact.transition))) return messages;
  const isCall = ({ kind }: DurableMessage): boolean => kind === 'call' || kind === 'say-call';
  return [...messages.filter(isCall), ...messages.filter((message) => !isCall(message))];
}
