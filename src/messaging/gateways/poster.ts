import { setTimeout as sleep } from 'node:timers/promises';
import { MS_PER_DAY } from '../../../shared/base/time-units.js';
import type { DeskSentences } from '../../watering/sentences/said/desk-sentences.js';
import type { DurableMessage } from '../outbox/fact-messages.js';
import { alarmOf, type Judging, judgeWaiting } from '../outbox/judge-waiting.js';
import type { Outbox, WaitingMessage } from '../outbox/outbox.js';
import { wirePayload } from '../outbox/wire-payload.js';
import type { GatewayKind, MessagingTrouble } from '../wire/messaging-health.js';
import type { MessagingLog } from '../wire/messaging-log.js';
import { GivenUp } from './given-up.js';

/** So many refusals from the oldest on, and one of the newest of each kind, before the gateway is left alone for a while. */
const MOST_REFUSED = 3;
/** Refused so often while the gateway takes others, a message is at fault itself (judgement). */
const MOST_TRIES = 3;
/** Whoever was not reached for so long sees the page first (judgement). */
const MOST_AGE_MS = 7 * MS_PER_DAY;

/**
 * What became of a post. `refused`: that was the answer to this one; `silent`: nobody answers, whatever is posted; `gone`: nobody will
 * ever take one there again.
 */
export type Posted =
  | { readonly is: 'taken' }
  | { readonly is: 'refused' | 'silent' | 'gone'; readonly why: string };

/** Where messages are posted, each way its own. */
export interface Gateway {
  /** Whose messages they are in the outbox. */
  readonly id: string;
  /** As it stands in a sentence: `the webhook "sms"`. */
  readonly way: string;
  readonly kind: GatewayKind;
  /** A message of the broker as it waits for this gateway; undefined: it is nothing to it. */
  readonly wants: (told: DurableMessage) => DurableMessage | undefined;
  /** True for what waits beside the others without being posted: they are judged by it. */
  readonly staysHere: (message: WaitingMessage) => boolean;
  /** Posts once; gives up after a while, or when `ending` is aborted. Never throws. */
  readonly post: (message: WaitingMessage, ending: AbortSignal) => Promise<Posted>;
}

interface Refused {
  readonly message: WaitingMessage;
  readonly why: string;
}

export interface PosterOptions {
  readonly gateway: Gateway;
  readonly outbox: Outbox;
  /** The farm's words. */
  readonly say: DeskSentences;
  readonly wallNowMs: () => number;
  readonly delays: () => Generator<number, never, undefined>;
  readonly log: MessagingLog;
  readonly judging: () => Judging;
  /** A post was taken, or (with `why`) was not. */
  readonly onOutcome: (id: string, why?: string) => void;
  /** Nothing is posted there any more. */
  readonly onGone?: ((why: string) => void) | undefined;
}

/**
 * Posts to one gateway, one after the other and in order, each until it is taken. What waits is in the outbox and is judged again
 * before it is posted. One that is refused does not keep those after it: where they are taken and it never is, it is given up, and
 * that is said.
 */
export class Poster {
  readonly #options: PosterOptions;
  readonly #ending = new AbortController();
  readonly #refusals = new Map<number, number>();
  readonly #givenUp: GivenUp;
  #running: Promise<void> | undefined;
  #nap: AbortController | undefined;
  #isSilent = false;
  #isJudged = false;
  #trouble: string | undefined;

  constructor(options: PosterOptions) {
    this.#options = options;
    this.#givenUp = new GivenUp(options.gateway.way, options.gateway.kind);
    this.#wake();
  }

  /** The gateway's id. */
  get id(): string {
    return this.#options.gateway.id;
  }

  get #kind(): GatewayKind {
    return this.#options.gateway.kind;
  }

  get #way(): string {
    return this.#options.gateway.way;
  }

  /** Why posts wait, and what was given up. */
  troubles(): readonly MessagingTrouble[] {
    return [
      { code: `${this.#options.gateway.kind}-away`, sentence: this.#trouble },
      this.#givenUp.trouble(this.#options.wallNowMs()),
    ];
  }

  add(messages: readonly DurableMessage[], queuedAtMs: number): void {
    const chosen = messages.map(this.#options.gateway.wants).filter((one) => one !== undefined);
    this.#options.outbox.add(chosen, queuedAtMs);
    if (chosen.length > 0) this.#isJudged = false;
    if (chosen.length > 0 && !this.#isSilent) this.#nap?.abort();
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
    const { outbox, delays } = this.#options;
    let waits = delays();
    for (;;) {
      const isAnyTaken = await this.#goThrough();
      if (isAnyTaken) waits = delays();
      if (outbox.waitingCount === 0 || this.#ending.signal.aborted) break;
      this.#nap = new AbortController();
      const { signal } = this.#nap;
      await sleep(waits.next().value, undefined, { signal }).catch(ignoreAbort);
      this.#nap = undefined;
    }
    outbox.settle();
  }

  /** Tries what waits once, oldest first; true when any was taken. */
  async #goThrough(): Promise<boolean> {
    const { outbox, gateway } = this.#options;
    this.#isJudged = false;
    const refused: Refused[] = [];
    const tried = new Set<number>();
    let isAnyTaken = false;
    for (;;) {
      if (!this.#isJudged) this.#judge();
      const message = this.#nextOf(tried, !isAnyTaken && refused.length >= MOST_REFUSED);
      if (message === undefined || this.#ending.signal.aborted) break;
      tried.add(message.seq);
      if (gateway.staysHere(message)) {
        outbox.delivered([message.seq]);
        continue;
      }
      const posted = await gateway.post(message, this.#ending.signal);
      this.#isSilent = posted.is === 'silent';
      if (posted.is === 'taken') {
        this.#options.onOutcome(message.id);
        this.#leave(message);
        this.#dropOlderStates(message);
        // It takes posts again: those before this one come first.
        if (!isAnyTaken) for (const { message: before } of refused.splice(0)) tried.delete(before.seq);
        isAnyTaken = true;
      } else {
        if (this.#ending.signal.aborted) break;
        this.#options.onOutcome(message.id, posted.why);
        this.#sayTrouble(`${this.#way} does not take posts: ${posted.why}`, posted.why);
        if (posted.is === 'gone') return this.#end(posted.why);
        if (posted.is === 'silent') return isAnyTaken;
        refused.push({ message, why: posted.why });
      }
    }
    if (isAnyTaken) this.#blame(refused);
    if (outbox.waitingCount === 0) this.#trouble = undefined;
    return isAnyTaken;
  }

  #end(why: string): boolean {
    this.forget();
    this.#options.onGone?.(why);
    return false;
  }

  /** Nothing is posted any more, and what waited is dropped. */
  forget(): void {
    const { outbox } = this.#options;
    this.#ending.abort();
    this.#nap?.abort();
    outbox.delivered(outbox.next(0, outbox.waitingCount).map(({ seq }) => seq));
    outbox.settle();
  }

  /** At the start of each pass, and when something came after. */
  #judge(): void {
    this.#isJudged = true;
    const { outbox, judging, log, gateway, wallNowMs } = this.#options;
    const count = judgeWaiting(outbox, judging());
    if (count > 0) log.info({ way: gateway.id, count }, 'words-over');
    for (let [oldest] = outbox.next(0, 1); oldest !== undefined; [oldest] = outbox.next(0, 1)) {
      if (wallNowMs() - oldest.queuedAtMs < MOST_AGE_MS) return;
      if (gateway.staysHere(oldest)) outbox.delivered([oldest.seq]);
      else this.#giveUp(oldest, 'it waited for a week');
    }
  }

  /** The oldest that was not tried; with `newestOnly` the newest of a kind of which none was. */
  #nextOf(tried: ReadonlySet<number>, newestOnly: boolean): WaitingMessage | undefined {
    const { outbox, gateway } = this.#options;
    const waiting = outbox.next(0, newestOnly ? outbox.waitingCount : tried.size + 1);
    if (!newestOnly) return waiting.find(({ seq }) => !tried.has(seq));
    const triedKinds = new Set(waiting.filter(({ seq }) => tried.has(seq)).map(({ kind }) => kind));
    return waiting.findLast((message) => !triedKinds.has(message.kind) && !gateway.staysHere(message));
  }

  /** Nobody is told an alarm's older state after its newer one. */
  #dropOlderStates({ kind, payload, seq }: WaitingMessage): void {
    if (kind !== 'alarm') return;
    const { outbox } = this.#options;
    const key = alarmOf(payload);
    const older = outbox.next(0, outbox.waitingCount).filter((one) => one.seq < seq && one.kind === 'alarm');
    outbox.delivered(older.filter((one) => alarmOf(one.payload) === key).map((one) => one.seq));
  }

  /** The gateway takes posts, and these it does not take. */
  #blame(refused: readonly Refused[]): void {
    for (const { message, why } of refused) {
      const tries = (this.#refusals.get(message.seq) ?? 0) + 1;
      this.#refusals.set(message.seq, tries);
      if (tries >= MOST_TRIES) this.#giveUp(message, why);
    }
    const [first] = refused;
    if (first !== undefined)
      this.#sayTrouble(`${this.#way} takes some posts and not others: ${first.why}`, first.why);
  }

  #sayTrouble(trouble: string, why: string): void {
    if (this.#trouble !== trouble)
      this.#options.log.warn({ [this.#kind]: this.id, why }, `${this.#kind}-away`);
    this.#trouble = trouble;
  }

  #giveUp(message: WaitingMessage, why: string): void {
    const { log, onOutcome, wallNowMs, say } = this.#options;
    const { sentence } = JSON.parse(wirePayload(message, say)) as { sentence?: string };
    onOutcome(message.id, why);
    log.error(
      { [this.#kind]: this.id, id: message.id, type: message.topic, sentence, why },
      `${this.#kind}-refused`,
    );
    this.#givenUp.note(
      sentence === undefined ? `a post of type ${message.topic}` : `"${sentence}"`,
      why,
      wallNowMs(),
    );
    this.#leave(message);
  }

  #leave({ seq }: WaitingMessage): void {
    this.#trouble = undefined;
    this.#refusals.delete(seq);
    this.#options.outbox.delivered([seq]);
  }

  /** Lets what is on its way arrive, for at most this long; the rest waits in the outbox for the next start. */
  async close(patienceMs: number): Promise<void> {
    const end = () => {
      this.#ending.abort();
      this.#nap?.abort();
    };
    const timer = setTimeout(end, this.#trouble === undefined ? patienceMs : 0);
    await this.#running;
    clearTimeout(timer);
    end();
    this.#options.outbox.settle();
  }
}

function ignoreAbort(reason: unknown): void {
  if (!(reason instanceof Error && reason.name === 'AbortError')) throw reason;
}
