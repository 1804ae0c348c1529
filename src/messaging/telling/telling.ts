import type { IPublishPacket, MqttClient } from 'mqtt';
import { toInstant } from '../../../shared/base/ids.js';
import { MQTT_WAY } from '../../../shared/base/test-call.js';
import type { WebhookConfig } from '../../../shared/config/messaging.js';
import type { Status } from '../../../shared/facts/status.js';
import type { FarmTopics } from '../../../shared/wire/topics.js';
import { farmTopics } from '../../../shared/wire/topics.js';
import type { Database } from '../../host/disk/sqlite.js';
import type { Fact } from '../../monitor/ports/facts.js';
import type { ToldAnswer } from '../../watering/sentences/said/told.js';
import type { FarmSpeech } from '../../watering/sentences/speech.js';
import { CommandInbox } from '../commands/command-inbox.js';
import { type CommandListener, CommandsIn, logRefusal } from '../commands/commands-in.js';
import { Poster } from '../gateways/poster.js';
import { CalledPhones, type CalledPhonesOptions } from '../gateways/push/called-phones.js';
import { webhookGateway } from '../gateways/webhooks/webhook-gateway.js';
import { Drain, type OnItsWay, type Said } from '../outbox/drain.js';
import { type DurableMessage, dispatchOf } from '../outbox/fact-messages.js';
import { type Judging, judgeWaiting } from '../outbox/judge-waiting.js';
import { lateWords } from '../outbox/late-words.js';
import { Outbox } from '../outbox/outbox.js';
import { wirePayload } from '../outbox/wire-payload.js';
import { ReadingsOut } from '../readings/readings-out.js';
import { BrokerRules } from '../retained/broker-rules.js';
import { LatestBoard } from '../retained/latest.js';
import { RetainedUpkeep } from '../retained/retained-upkeep.js';
import { Link } from '../wire/link.js';
import { errorText } from '../wire/messaging-error.js';
import { hangUpTrouble, type MessagingTrouble, messagingHealth } from '../wire/messaging-health.js';
import type { MessagingLog } from '../wire/messaging-log.js';
import { sayFarewell } from './farewell.js';
import { RetainedWords } from './retained-words.js';
import { TestCalls } from './test-calls.js';
import { Turns } from './turns.js';

const FAREWELL_PATIENCE_MS = 2_000;
/** What a test call says of a broker whose rules keep it. */
const NOT_HANDED_ON = 'the broker takes it but does not hand it on; mend its rules for this user';
/** How long everything else stands back for a call; the own broker has it in a few milliseconds. */
const CALL_FIRST_MS = 100;

export interface TellingOptions {
  readonly farm: string;
  readonly speech: FarmSpeech;
  readonly address: string;
  readonly database: Database;
  readonly open: () => MqttClient;
  /** The own broker's word that a message is kept; absent: the broker's acknowledgement is that. */
  readonly sayInside?: ((message: Said) => Promise<void>) | undefined;
  readonly delays: () => Generator<number, never, undefined>;
  readonly nowMs: () => number;
  readonly wallNowMs: () => number;
  readonly newId: () => string;
  readonly log: MessagingLog;
  readonly firstStatus: Status;
  readonly webhooks: readonly WebhookConfig[];
  readonly push: Pick<CalledPhonesOptions, 'kept' | 'sender' | 'language'>;
  readonly echoPatienceMs?: number | undefined;
  /** Elapsed time, for what the broker hung up on. */
  readonly monotonicMs?: (() => number) | undefined;
}

/** Facts out, commands in, over one kept connection; the publisher without its broker. */
export class Telling {
  readonly #options: TellingOptions;
  readonly #topics: FarmTopics;
  readonly #outbox: Outbox;
  readonly #inbox: CommandInbox;
  readonly #drain: Drain;
  readonly #latest = new LatestBoard();
  readonly #readings: ReadingsOut;
  readonly #upkeep: RetainedUpkeep;
  readonly #commands: CommandsIn;
  readonly #link: Link;
  readonly #posters: readonly Poster[];
  readonly #phones: CalledPhones;
  readonly #tests: TestCalls;
  readonly #rules: BrokerRules;
  readonly #words: RetainedWords;
  readonly #turns: Turns;
  #client: MqttClient | undefined;
  #onFirstUp: (() => void) | undefined;

  constructor(options: TellingOptions) {
    const { speech, wallNowMs, nowMs, database, log, address } = options;
    const topics = farmTopics(options.farm);
    const elsewhere = options.sayInside === undefined;
    this.#options = options;
    this.#topics = topics;
    this.#outbox = new Outbox(database);
    this.#inbox = new CommandInbox(database);
    this.#words = new RetainedWords(this.#outbox, topics, speech.say);
    this.#readings = new ReadingsOut(options.farm, topics);
    this.#drain = new Drain(this.#outbox, {
      dress: (message) => {
        const payload = wirePayload(message, speech.say);
        if (!message.kind.startsWith('say')) return payload;
        return lateWords(payload, {}, message.queuedAtMs, wallNowMs(), speech);
      },
      monotonicMs: options.monotonicMs ?? (() => performance.now()),
      onSetAside: ({ topic, payload }) =>
        log.warn({ topic, bytes: Buffer.byteLength(payload) }, 'broker-hangs-up'),
    });
    this.#tests = new TestCalls({
      farm: options.farm,
      topics,
      wallNowMs,
      newId: options.newId,
      send: (way, messages) => this.#sendTest(way, messages),
      report: (topic, payload) => this.#client?.publish(topic, payload, { qos: 1 }),
    });
    this.#upkeep = new RetainedUpkeep({
      topics,
      wanted: () => this.#words.all(),
      onTheirWay: () =>
        new Set(this.#outbox.next(0, Number.MAX_SAFE_INTEGER).map((message) => message.topic)),
      staysSubscribed: elsewhere,
      onDone: (repaired) => {
        this.#rules.noteStatus(true);
        log.debug({ repaired }, 'retained-checked');
      },
      onWithheld: () => this.#rules.noteStatus(false),
    });
    this.#rules = new BrokerRules({
      farm: options.farm,
      topics,
      address,
      elsewhere,
      monotonicMs: () => performance.now(),
      log,
      echoPatienceMs: options.echoPatienceMs,
    });
    this.#commands = new CommandsIn({
      topics,
      inbox: this.#inbox,
      nowMs,
      wallNowMs,
      monotonicMs: () => performance.now(),
      log,
      answer: (answer) => this.#answer(answer),
    });
    this.#latest.set(topics.status, JSON.stringify(options.firstStatus));
    const posting = {
      wallNowMs,
      judging: () => this.#judging(),
      delays: options.delays,
      log,
      onOutcome: (id: string, why?: string) => this.#tests.outcome(id, why),
    };
    this.#posters = options.webhooks.map(
      (hook) =>
        new Poster({
          ...posting,
          gateway: webhookGateway(hook, speech, wallNowMs),
          say: speech.say,
          outbox: new Outbox(database, hook.id),
        }),
    );
    this.#phones = new CalledPhones({
      ...posting,
      ...options.push,
      farm: options.farm,
      speech,
      nowMs,
      newId: options.newId,
      outboxOf: (target) => new Outbox(database, target),
    });
    this.#turns = new Turns({
      topics,
      outbox: this.#outbox,
      gateways: [...this.#posters, this.#phones],
      latest: this.#latest,
      words: this.#words,
      tests: this.#tests,
      onTold: (fact) => {
        if (fact.kind !== 'answer') return;
        logRefusal(log, fact.answer);
        this.#inbox.answered(fact.answer);
      },
      newId: options.newId,
      wallNowMs,
    });
    this.#link = new Link({
      open: options.open,
      address,
      delays: options.delays,
      monotonicMs: () => performance.now(),
      onUp: (client) => this.#up(client),
      onDown: () => this.#down(),
      onMessage: (packet, done) => this.#receive(packet, done),
      log,
    });
  }

  /** Resolves when the first connection stands, or after this long. */
  async connected(patienceMs: number): Promise<void> {
    if (this.#client !== undefined) return;
    let timer: NodeJS.Timeout | undefined;
    await new Promise<void>((resolve) => {
      this.#onFirstUp = resolve;
      timer = setTimeout(resolve, patienceMs);
    });
    clearTimeout(timer);
  }

  #up(client: MqttClient): void {
    this.#client = client;
    this.#onFirstUp?.();
    this.#rules.up(client);
    this.#upkeep.start(client);
    this.#latest.start(client);
    const dropped = judgeWaiting(this.#outbox, this.#judging());
    if (dropped > 0) this.#options.log.info({ way: 'broker', count: dropped }, 'words-over');
    this.#drain.start((message, kept) => this.#say(client, message, kept));
  }

  #judging(): Judging {
    const { nowMs, wallNowMs } = this.#options;
    return { nowMs: nowMs(), wallNowMs: wallNowMs() };
  }

  #say(client: MqttClient, message: OnItsWay, kept: () => void): void {
    const { sayInside, log } = this.#options;
    const { topic, payload, retain, kind, id } = message;
    if (sayInside === undefined) {
      const awaited = this.#rules.sent(topic, (cameBack) => {
        if (kind === 'say-test') this.#tests.outcome(id, cameBack ? undefined : NOT_HANDED_ON);
      });
      client.publish(topic, payload, { qos: 1, retain }, (error) => {
        if ((error ?? undefined) !== undefined) return;
        if (awaited !== undefined) this.#rules.acknowledged(awaited);
        kept();
      });
      return;
    }
    sayInside(message).then(
      () => {
        kept();
        if (kind === 'say-test') this.#tests.outcome(id);
      },
      (error: unknown) => {
        // the next connection begins with this message again
        log.warn({ topic, error: errorText(error) }, 'broker-cannot-keep');
        client.end(true);
      },
    );
  }

  #down(): void {
    this.#client = undefined;
    this.#drain.stop();
    this.#latest.stop();
    this.#upkeep.stop();
    this.#rules.down();
  }

  #receive(packet: IPublishPacket, done: () => void): void {
    const ownStatus = this.#latest.get(this.#topics.status);
    this.#rules.take(packet, ownStatus);
    if (this.#commands.take(packet, done)) return;
    this.#upkeep.take(packet, ownStatus);
    done();
  }

  /**
   * Takes facts in order. Never rejects because nobody listens. A turn that was taken to its end before is not told again; one that a
   * crash cut off is, and its messages have the same ids.
   */
  async tell(facts: readonly Fact[], turn?: string): Promise<void> {
    if (turn !== undefined && turn === this.#outbox.turn) return;
    const readings = this.#turns.take(
      facts.map((fact) => this.#withStanding(fact)),
      turn,
    );
    this.#drain.pump();
    // Forecasts, readings and whatever the caller does next (saving, drawing) keep the processor busy: the call first.
    if (facts.some(({ kind }) => kind === 'call')) await this.#drain.emptied(CALL_FIRST_MS);
    this.#latest.pump();
    this.#readings.tell(readings, this.#client);
  }

  #sendTest(way: string, messages: readonly DurableMessage[]): void {
    const nowMs = this.#options.wallNowMs();
    if (way === MQTT_WAY) {
      this.#outbox.add(messages, nowMs);
      // phones hear what is said over the broker; whether they took it is not what the test says of the broker
      this.#phones.add(
        messages.map((message) => ({ ...message, id: this.#options.newId() })),
        nowMs,
      );
    } else this.#posters.find((poster) => poster.id === way)?.add(messages, nowMs);
  }

  /** A status says what always holds as well: which drive, which time zone. */
  #withStanding(fact: Fact): Fact {
    if (fact.kind !== 'status') return fact;
    return { kind: 'status', status: { ...this.#options.firstStatus, ...fact.status } };
  }

  #answer(answer: ToldAnswer): void {
    const dispatch = dispatchOf({ kind: 'answer', answer }, this.#topics, this.#options.newId);
    if (dispatch.way === 'durable') this.#outbox.add(dispatch.messages, this.#options.wallNowMs());
    this.#inbox.answered(answer);
    this.#drain.pump();
  }

  onCommand(listener: CommandListener): void {
    this.#commands.listen(listener);
  }

  /** Those that are called by push. */
  get phones(): CalledPhones {
    return this.#phones;
  }

  health(): ReturnType<typeof messagingHealth> {
    const troubles: readonly MessagingTrouble[] = [
      ...this.#rules.troubles(this.#link.trouble),
      hangUpTrouble(this.#drain.setAside, this.#options),
      { code: 'not-kept', sentence: this.#outbox.trouble },
      ...this.#posters.flatMap((poster) => poster.troubles()),
      ...this.#phones.troubles(),
    ];
    return messagingHealth(troubles, {
      waiting: this.#outbox.waitingCount,
      dropped: this.#outbox.droppedCount,
      untoldReadings: this.#readings.untoldCount,
    });
  }

  /** Says what waits, says goodbye, and leaves within a few seconds whatever the broker does. */
  async close(): Promise<void> {
    const posted = Promise.all(
      [...this.#posters, this.#phones].map((way) => way.close(FAREWELL_PATIENCE_MS)),
    );
    await this.#drain.emptied(FAREWELL_PATIENCE_MS);
    const client = this.#client;
    this.#commands.stop();
    if (client !== undefined) {
      const { firstStatus, nowMs, speech } = this.#options;
      const farewell: Status = {
        ...firstStatus,
        online: false,
        at: toInstant(nowMs()),
        sentence: speech.say.house.stopped(),
      };
      await sayFarewell(client, this.#topics.status, farewell, FAREWELL_PATIENCE_MS);
    }
    this.#down();
    await Promise.all([this.#link.close(), posted]);
    this.#outbox.settle();
  }
}
