import { MQTT_WAY, type TestReport } from '../../../shared/base/test-call.js';
import type { FarmTopics } from '../../../shared/wire/topics.js';
import type { Fact } from '../../monitor/ports/facts.js';
import type { DurableMessage } from '../outbox/fact-messages.js';
import type { ToldTest } from '../outbox/wire-payload.js';

type TestFact = Extract<Fact, { kind: 'test-call' | 'test-seen' }>;

export interface TestCallsOptions {
  readonly farm: string;
  readonly topics: FarmTopics;
  readonly wallNowMs: () => number;
  readonly newId: () => string;
  /** Puts messages on their way. */
  readonly send: (way: string, messages: readonly DurableMessage[]) => void;
  readonly report: (topic: string, payload: string) => void;
}

interface Sent {
  readonly test: string;
  readonly way: string;
}

/** Sends a test call out by every way and reports how far it comes, timed on the wall clock. Forgets all at a restart. */
export class TestCalls {
  readonly #options: TestCallsOptions;
  readonly #madeAtMs = new Map<string, number>();
  readonly #sent = new Map<string, Sent>();

  constructor(options: TestCallsOptions) {
    this.#options = options;
  }

  take(fact: TestFact): void {
    if (fact.kind === 'test-call') this.#send(fact);
    else {
      const { test, way, by } = fact;
      const said = { ...(way === undefined ? {} : { way }), ...(by === undefined ? {} : { by }) };
      this.#report(test, { state: 'seen', ...said });
    }
  }

  #send({ at, test, by, ways, bareSeen }: Extract<TestFact, { kind: 'test-call' }>): void {
    const { farm, topics, wallNowMs, newId, send } = this.#options;
    this.#madeAtMs.clear();
    this.#sent.clear();
    this.#madeAtMs.set(test, wallNowMs());
    for (const way of ways) {
      const id = newId();
      const call: ToldTest = {
        id,
        at,
        test,
        way,
        ...(by === undefined ? {} : { by }),
        answer: { do: 'test-seen', way },
        said: { farm, bareSeen },
      };
      this.#sent.set(id, { test, way });
      this.#report(test, { way, state: 'sent' });
      const message: DurableMessage = {
        id,
        kind: 'test-call',
        topic: topics.testCall,
        payload: JSON.stringify(call),
        retain: false,
      };
      const say: DurableMessage = { ...message, kind: 'say-test', topic: topics.say };
      send(way, way === MQTT_WAY ? [message, say] : [message]);
    }
  }

  /** Broker or gateway has taken a message, or (with `why`) has not. */
  outcome(id: string, why?: string): void {
    const sent = this.#sent.get(id);
    if (sent === undefined) return;
    const { test, way } = sent;
    if (why === undefined) {
      this.#sent.delete(id);
      this.#report(test, { way, state: 'handed-over' });
    } else this.#report(test, { way, state: 'not-taken', why });
  }

  #report(test: string, report: Omit<TestReport, 'test' | 'afterMs'>): void {
    const { topics, wallNowMs, report: tell } = this.#options;
    const madeAtMs = this.#madeAtMs.get(test);
    if (madeAtMs === undefined) return;
    const whole: TestReport = { test, ...report, afterMs: Math.max(0, wallNowMs() - madeAtMs) };
    tell(topics.testReport(test), JSON.stringify(whole));
  }
}
