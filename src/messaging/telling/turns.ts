import type { FarmTopics } from '../../../shared/wire/topics.js';
import type { Fact, JudgedReading } from '../../monitor/ports/facts.js';
import { EndedTrays } from '../outbox/ended-trays.js';
import { callsFirst, type DurableMessage, dispatchOf } from '../outbox/fact-messages.js';
import type { Outbox } from '../outbox/outbox.js';
import type { LatestBoard } from '../retained/latest.js';
import type { RetainedWords } from './retained-words.js';
import type { TestCalls } from './test-calls.js';

/** Where the parts of a turn go. */
export interface TurnsOptions {
  readonly topics: FarmTopics;
  /** The broker's; it notes which turn was taken to its end. */
  readonly outbox: Outbox;
  /** Gateways and phones, each with an outbox of its own. */
  readonly gateways: readonly { add(messages: readonly DurableMessage[], nowMs: number): void }[];
  readonly latest: LatestBoard;
  readonly words: RetainedWords;
  readonly tests: Pick<TestCalls, 'take'>;
  /** A fact was put on its way. */
  readonly onTold: (fact: Fact) => void;
  readonly newId: () => string;
  readonly wallNowMs: () => number;
}

/** Sorts the facts of a turn by the way they go: what must arrive into every outbox, the newest of a kind, tests, readings. */
export class Turns {
  readonly #options: TurnsOptions;
  readonly #ended = new EndedTrays();

  constructor(options: TurnsOptions) {
    this.#options = options;
  }

  /**
   * Takes facts in order and gives their readings. A turn that a crash cut off is taken again, and its messages have the same ids.
   */
  take(facts: readonly Fact[], turn: string | undefined): readonly JudgedReading[] {
    const { topics, outbox, gateways, latest, words, tests, newId, wallNowMs, onTold } = this.#options;
    const readings: JudgedReading[] = [];
    let durable: DurableMessage[] = [];
    let factCount = 0;
    const idOfFact = turn === undefined ? newId : () => `${turn}-${factCount}`;
    // gateways before the broker: its outbox notes the turn
    const keep = (doneTurn?: string) => {
      const nowMs = wallNowMs();
      const messages = callsFirst(durable, facts);
      for (const gateway of gateways) gateway.add(messages, nowMs);
      outbox.add(messages, nowMs, doneTurn);
      durable = [];
    };
    for (const fact of facts) {
      const dispatch = dispatchOf(fact, topics, idOfFact);
      if (dispatch.way === 'durable') factCount += 1;
      if (dispatch.way === 'reading') readings.push(dispatch.reading);
      else if (dispatch.way === 'latest') latest.set(dispatch.topic, dispatch.payload);
      else if (dispatch.way === 'test') {
        keep();
        tests.take(dispatch.fact);
      } else if (dispatch.way === 'durable' && !words.areToldAlready(dispatch.messages)) {
        durable.push(...dispatch.messages);
        if (fact.kind === 'tray-event') keep();
        for (const topic of this.#ended.topicsToClear(fact, topics, outbox)) {
          latest.forget(topic);
          durable.push({ id: newId(), kind: 'clear', topic, payload: '', retain: true });
        }
      }
      onTold(fact);
    }
    keep(turn);
    return readings;
  }
}
