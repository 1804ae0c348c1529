import { setTimeout as sleep } from 'node:timers/promises';
import { type WebhookConfig, webhookKey } from '../../shared/config/messaging.js';
import type { FarmTopics } from '../../shared/topics.js';
import type { DurableMessage } from './fact-messages.js';
import { lateWords } from './late-words.js';
import type { MessagingLog } from './messaging-log.js';
import type { Outbox, WaitingMessage } from './outbox.js';
import { reviseOvertaken } from './overtaken.js';
import { withPatience } from './patience.js';
import { callMessage, type SayCall } from './waiting-call.js';
import { webhookHeaders } from './webhook-signature.js';
import { refusalWords, silenceWords } from './webhook-trouble.js';

const ANSWER_PATIENCE_MS = 10_000;
/** Answers that condemn this one post for good; others may be mended on the other side, and are tried again. */
const CONDEMNED = new Set([400, 413, 415, 422]);

export interface PosterOptions {
  readonly hook: WebhookConfig;
  readonly outbox: Outbox;
  readonly timeZone: string;
  readonly wallNowMs: () => number;
  readonly delays: () => Generator<number, never, undefined>;
  readonly log: MessagingLog;
  readonly sayCall: SayCall;
  /** A post was taken, or (with `why`) was not. */
  readonly onOutcome: (id: string, why?: string) => void;
}

type Posted = { readonly is: 'taken' } | { readonly is: 'condemned' | 'not-yet'; readonly why: string };

/** What of the outbox concerns a gateway: alarms, calls, questions, and the newest notice. */
function forGateways(told: DurableMessage, topics: FarmTopics): DurableMessage | undefined {
  if (told.payload === '') return undefined;
  const message = { ...told, retain: false };
  switch (message.kind) {
    case 'alarm':
      return { ...message, topic: 'alarm' };
    case 'call':
      return { ...message, topic: 'call' };
    case 'test-call':
      return { ...message, topic: 'test-call' };
    case 'record':
      if (message.topic === topics.round) return { ...message, topic: 'round', kind: 'say-round' };
      return message.topic === topics.ask ? { ...message, topic: 'ask' } : undefined;
    default:
      return undefined;
  }
}

function isOver(message: WaitingMessage): boolean {
  return message.kind === 'call' && (JSON.parse(message.payload) as { over?: boolean }).over === true;
}

/**
 * Posts to one webhook, one after the other and in order, each until it is taken. What waits is in the outbox; a call
 * that became untrue meanwhile is not posted.
 */
export class Poster {
  readonly #options: PosterOptions;
  readonly #key: Uint8Array;
  readonly #ending = new AbortController();
  #running: Promise<void> | undefined;
  #trouble: string | undefined;
  #condemnedCount = 0;

  constructor(options: PosterOptions) {
    const key = webhookKey(options.hook.secret);
    if (key === undefined)
      throw new TypeError(`webhook "${options.hook.id}" has a secret that the schema refuses`);
    this.#options = options;
    this.#key = key;
    this.#wake();
  }

  /** The webhook's id. */
  get id(): string {
    return this.#options.hook.id;
  }

  /** Why posts wait; undefined when they do not. */
  get trouble(): string | undefined {
    return this.#trouble;
  }

  /** Posts that the other side refused for good. */
  get condemnedCount(): number {
    return this.#condemnedCount;
  }

  add(messages: readonly DurableMessage[], topics: FarmTopics, queuedAtMs: number): void {
    const chosen = messages.map((message) => forGateways(message, topics)).filter((one) => one !== undefined);
    this.#options.outbox.add(chosen, queuedAtMs);
    this.#wake();
  }

  #wake(): void {
    if (this.#running !== undefined || this.#ending.signal.aborted) return;
    if (this.#options.outbox.waitingCount === 0) return;
    this.#running = this.#run().finally(() => {
      this.#running = undefined;
      this.#wake();
    });
  }

  async #run(): Promise<void> {
    const { outbox, delays, log, hook, wallNowMs, sayCall, onOutcome } = this.#options;
    let waits = delays();
    for (;;) {
      reviseOvertaken(outbox, wallNowMs(), sayCall);
      const [message] = outbox.next(0, 1);
      if (message === undefined || this.#ending.signal.aborted) break;
      const posted: Posted = isOver(message) ? { is: 'taken' } : await this.#post(message);
      if (posted.is === 'not-yet') {
        if (this.#ending.signal.aborted) break;
        const trouble = `the webhook "${hook.id}" does not take posts: ${posted.why}`;
        onOutcome(message.id, posted.why);
        if (this.#trouble !== trouble) log.warn({ webhook: hook.id, why: posted.why }, 'webhook-away');
        this.#trouble = trouble;
        await sleep(waits.next().value, undefined, { signal: this.#ending.signal }).catch(ignoreAbort);
        continue;
      }
      if (posted.is === 'condemned') {
        onOutcome(message.id, posted.why);
        this.#condemnedCount += 1;
        log.error({ webhook: hook.id, id: message.id, why: posted.why }, 'webhook-refused');
      } else onOutcome(message.id);
      this.#trouble = undefined;
      waits = delays();
      outbox.delivered([message.seq]);
    }
    outbox.settle();
  }

  async #post(message: WaitingMessage): Promise<Posted> {
    const { hook, wallNowMs } = this.#options;
    const body = this.#bodyOf(message);
    const headers = webhookHeaders(this.#key, message.id, Math.floor(wallNowMs() / 1000), body);
    try {
      const answer = await withPatience(ANSWER_PATIENCE_MS, this.#ending.signal, (signal) =>
        fetch(hook.url, {
          method: 'POST',
          headers: { 'content-type': 'application/json', ...headers },
          body,
          redirect: 'manual',
          signal,
        }),
      );
      await answer.body?.cancel();
      if (answer.ok) return { is: 'taken' };
      return {
        is: CONDEMNED.has(answer.status) ? 'condemned' : 'not-yet',
        why: refusalWords(answer.status, answer.headers.get('location')),
      };
    } catch (cause) {
      return { is: 'not-yet', why: silenceWords(cause, ANSWER_PATIENCE_MS) };
    }
  }

  #bodyOf({ kind, topic, payload: kept, queuedAtMs }: WaitingMessage): string {
    const { wallNowMs, timeZone } = this.#options;
    const payload = kind === 'call' ? callMessage(kept) : kept;
    const data = JSON.parse(payload) as { at?: string; sentence?: string };
    const late = (sentence: string) => lateWords(sentence, queuedAtMs, wallNowMs(), timeZone);
    return JSON.stringify({
      type: topic,
      timestamp: data.at,
      data: data.sentence === undefined ? data : { ...data, sentence: late(data.sentence) },
    });
  }

  /** Lets what is on its way arrive, for at most this long; the rest waits in the outbox for the next start. */
  async close(patienceMs: number): Promise<void> {
    const timer = setTimeout(() => this.#ending.abort(), this.#trouble === undefined ? patienceMs : 0);
    await this.#running;
    clearTimeout(timer);
    this.#ending.abort();
    this.#options.outbox.settle();
  }
}

function ignoreAbort(reason: unknown): void {
  if (!(reason instanceof Error && reason.name === 'AbortError')) throw reason;
}
