import { beforeEach, describe, expect, it } from 'vitest';
import { unitsSchema } from '../../shared/config/notices.js';
import { farmTopics } from '../../shared/wire/topics.js';
import { forGateways } from '../../src/messaging/gateways/webhooks/for-gateways.js';
import { dispatchOf } from '../../src/messaging/outbox/fact-messages.js';
import { judgeWaiting } from '../../src/messaging/outbox/judge-waiting.js';
import { openMessagingFile } from '../../src/messaging/outbox/messaging-file.js';
import { Outbox } from '../../src/messaging/outbox/outbox.js';
import { wirePayload } from '../../src/messaging/outbox/wire-payload.js';
import type { Fact } from '../../src/monitor/ports/facts.js';
import { createSpeech } from '../../src/watering/sentences/speech.js';
import { alarmFact, askFact, callFact, roundFact, roundFactOf, START_MS, wateringFact } from './facts.js';

const HOUR_MS = 3_600_000;
const topics = farmTopics('alder-row');
const { say } = createSpeech({ timeZone: 'Europe/Berlin', units: unitsSchema.parse({}) });

/** One way each: over the broker, where sentences go by themselves, and to a webhook, which gets what is for it. */
describe.each(['broker', 'webhook'] as const)('what waits for the %s', (way) => {
  let outbox: Outbox;
  let nowMs: number;
  let ids = 0;

  beforeEach(() => {
    outbox = new Outbox(openMessagingFile(undefined, START_MS).database, way === 'broker' ? '' : 'sms');
    nowMs = START_MS;
  });

  const tell = (...facts: readonly Fact[]) => {
    for (const fact of facts) {
      const dispatch = dispatchOf(fact, topics, () => `m${++ids}`);
      const told = dispatch.way === 'durable' ? dispatch.messages : [];
      const mine = way === 'broker' ? told : told.map(forGateways).filter((one) => one !== undefined);
      outbox.add(mine, nowMs);
    }
  };
  const judge = () => judgeWaiting(outbox, { nowMs, wallNowMs: nowMs });
  /** The words that people would get now, in order. */
  const words = (): readonly string[] => {
    judge();
    return outbox.next(0, 99).flatMap((message) => {
      const { kind } = message;
      const payload = wirePayload(message, say);
      if (way === 'broker') return kind.startsWith('say') ? [payload] : [];
      const body = JSON.parse(payload) as { sentence?: string; over?: boolean };
      return body.sentence === undefined || body.over === true ? [] : [body.sentence];
    });
  };

  it('a notice names no tray that was watered, or is gone, since', () => {
    tell(roundFactOf(['t1', 't2', 't3', 't4']));
    tell(wateringFact('t1'), wateringFact('t9'));
    tell({ kind: 'tray-event', event: { at: '2026-04-18T05:10:00Z', tray: 't3', event: 'ended' } });
    const [notice] = words();
    expect(notice).toMatch(
      /^Bench south, 08:15 round: water 2 trays of minis, about 580 mL each\. Trays: t2 and t4\./,
    );
    tell(wateringFact('t2'), wateringFact('t4'));
    expect(words()).toEqual(['08:15 round: nothing to water.']);
  });

  it('a notice stands as it was beside a pour of the day before, and with a pour that a probe shows late it does not', () => {
    tell(roundFactOf(['t1', 't2']));
    tell(wateringFact('t1', START_MS - 24 * HOUR_MS));
    expect(words()).toEqual(['Water t1, t2.']);
    tell(wateringFact('t1', START_MS - HOUR_MS));
    expect(words()).toEqual([expect.stringContaining('water tray t2 of minis')]);
  });

  it('of several notices only the newest is said, and none of a round that is over', () => {
    tell(roundFact('Morning.'), roundFact('Evening.', START_MS + 11 * HOUR_MS));
    expect(words()).toEqual(['Evening.']);
    nowMs = START_MS + 15 * HOUR_MS;
    expect(words()).toEqual([]);
  });

  it('a question is not asked when it was answered, nor a day later', () => {
    tell(askFact(['t1']), askFact(['t2', 't3']));
    tell(wateringFact('t1'), wateringFact('t2'));
    expect(words()).toEqual(['Were t2, t3 watered?']);
    nowMs = START_MS + 25 * HOUR_MS;
    expect(words()).toEqual([]);
  });

  it('a state that another has followed has no words left; the newest has', () => {
    const says = (state: 'unacknowledged' | 'normal', sentence: string): Fact => {
      const fact = alarmFact('t1', state);
      return fact.kind === 'alarm' ? { ...fact, transition: { ...fact.transition, sentence } } : fact;
    };
    tell(
      says('unacknowledged', 'Tray t1 is dry.'),
      callFact(['t1'], 'Water t1.'),
      says('normal', 'Tray t1 is well.'),
    );
    judge();
    const alarms = outbox
      .next(0, 9)
      .filter(({ kind }) => kind === 'alarm')
      .map(({ payload }) => JSON.parse(payload));
    expect(alarms.map(({ state, sentence }) => [state, sentence])).toEqual([
      ['unacknowledged', undefined],
      ['normal', 'Tray t1 is well.'],
    ]);
    expect(words().filter((text) => text.startsWith('Water'))).toEqual([]);
  });
});
