import { createHash } from 'node:crypto';
import { toInstant } from '../../../../shared/base/ids.js';
import type { Language } from '../../../../shared/base/language.js';
import type {
  PushAnswer,
  PushedPhone,
  PushRequest,
  PushSubscriptionKeys,
} from '../../../../shared/wire/push.js';
import type { Phones } from '../../../monitor/ports/phones.js';
import type { FarmSpeech } from '../../../watering/sentences/speech.js';
import type { DurableMessage } from '../../outbox/fact-messages.js';
import type { Outbox, WaitingMessage } from '../../outbox/outbox.js';
import type { MessagingTrouble } from '../../wire/messaging-health.js';
import type { MessagingLog } from '../../wire/messaging-log.js';
import { Poster, type PosterOptions } from '../poster.js';
import type { KeptPhone, KeptPhones } from './kept-phones.js';
import { type PushSender, phoneGateway, pushTo, wayTo } from './phone-gateway.js';
import { pushText } from './push-text.js';

/** More phones than hands on a small farm (judgement); each costs a post for every word. */
const MOST_PHONES = 50;
const ID_LETTERS = 12;

/** Whose messages they are in the outbox: the same phone again is the same. */
const idOf = (endpoint: string): string =>
  `push-${createHash('sha256').update(endpoint).digest('hex').slice(0, ID_LETTERS)}`;

export interface CalledPhonesOptions extends Pick<PosterOptions, 'judging' | 'delays' | 'onOutcome'> {
  readonly farm: string;
  readonly language: Language;
  readonly speech: FarmSpeech;
  readonly kept: KeptPhones;
  readonly sender: PushSender;
  readonly outboxOf: (target: string) => Outbox;
  readonly nowMs: () => number;
  readonly wallNowMs: () => number;
  readonly newId: () => string;
  readonly log: MessagingLog;
}

/** The phones that are told by push what is told over the broker to people: one way out for each, and how their pages set them up. */
export class CalledPhones implements Phones {
  readonly #options: CalledPhonesOptions;
  readonly #posters = new Map<string, Poster>();
  readonly #lastTakenMs = new Map<string, number>();

  constructor(options: CalledPhonesOptions) {
    this.#options = options;
    for (const phone of options.kept.all()) this.#open(phone);
  }

  add(messages: readonly DurableMessage[], queuedAtMs: number): void {
    for (const poster of this.#posters.values()) poster.add(messages, queuedAtMs);
  }

  troubles(): readonly MessagingTrouble[] {
    return [...this.#posters.values()].flatMap((poster) => poster.troubles());
  }

  async close(patienceMs: number): Promise<void> {
    await Promise.all([...this.#posters.values()].map((poster) => poster.close(patienceMs)));
  }

  async ask(request: PushRequest): Promise<PushAnswer> {
    if (request.do === 'begin') {
      const { subscription, name } = request;
      return this.#answer(subscription.endpoint, await this.#begin(subscription, name));
    }
    if (request.do === 'end') await this.#forget(idOf(request.endpoint));
    const problem = request.do === 'try' ? await this.#try(request.endpoint) : undefined;
    return this.#answer(request.endpoint, problem);
  }

  /** Why it could not be. */
  async #begin(subscription: PushSubscriptionKeys, name: string): Promise<string | undefined> {
    const { kept, sender, wallNowMs, log } = this.#options;
    const refusal = sender.service.refusal(subscription.endpoint);
    if (refusal !== undefined) return `This phone cannot be called: ${refusal}.`;
    const id = idOf(subscription.endpoint);
    const before = kept.all().find((one) => one.id === id);
    if (before === undefined && kept.all().length >= MOST_PHONES)
      return `${MOST_PHONES} phones are called already; end that on one of them first.`;
    const { endpoint, keys } = subscription;
    const phone: KeptPhone = {
      id,
      name,
      sinceMs: before?.sinceMs ?? wallNowMs(),
      subscription: { endpoint, keys },
    };
    if (before !== undefined && JSON.stringify(phone) === JSON.stringify(before)) return undefined;
    await kept.put(phone);
    await this.#posters.get(id)?.close(0);
    this.#open(phone);
    log.info({ phone: id, name }, 'phone-called');
    return undefined;
  }

  #open(phone: KeptPhone): void {
    const { farm, language, speech, sender, outboxOf, wallNowMs, log, judging, delays, onOutcome } =
      this.#options;
    const textOf = (message: WaitingMessage) =>
      pushText(message, { name: farm, language, speech }, wallNowMs());
    const taken = () => void this.#lastTakenMs.set(phone.id, wallNowMs());
    const poster = new Poster({
      gateway: phoneGateway(sender, phone, textOf, taken),
      outbox: outboxOf(phone.id),
      say: speech.say,
      ...{ wallNowMs, log, judging, delays, onOutcome },
      onGone: (why) => {
        log.warn({ phone: phone.id, name: phone.name, why }, 'phone-gone');
        this.#forget(phone.id).catch((error: unknown) => log.error({ err: error }, 'phone-not-forgotten'));
      },
    });
    this.#posters.set(phone.id, poster);
  }

  async #forget(id: string): Promise<void> {
    this.#posters.get(id)?.forget();
    this.#posters.delete(id);
    this.#lastTakenMs.delete(id);
    await this.#options.kept.forget(id);
  }

  /** A message to this phone alone, at once and not kept: whoever asks stands before it. */
  async #try(endpoint: string): Promise<string | undefined> {
    const { kept, sender, farm, language, speech, nowMs, wallNowMs, newId } = this.#options;
    const id = idOf(endpoint);
    const phone = kept.all().find((one) => one.id === id);
    if (phone === undefined) return 'This phone is not called; set it up first.';
    const sentence = speech.say.house.phoneTried();
    const queuedAtMs = wallNowMs();
    const message: WaitingMessage = {
      id: newId(),
      kind: 'test-call',
      topic: 'test-call',
      payload: JSON.stringify({ at: toInstant(nowMs()), sentence }),
      retain: false,
      seq: 0,
      queuedAtMs,
    };
    const text = pushText(message, { name: farm, language, speech }, queuedAtMs);
    const posted = await pushTo(sender, phone, text, new AbortController().signal);
    if (posted.is === 'taken') {
      this.#lastTakenMs.set(id, wallNowMs());
      return undefined;
    }
    if (posted.is === 'gone') await this.#forget(id);
    return `${wayTo(phone)}: ${posted.why}.`;
  }

  #answer(endpoint: string, problem: string | undefined): PushAnswer {
    const { kept, sender } = this.#options;
    const id = idOf(endpoint);
    const phones = kept.all().map((phone) => [phone.id, this.#shown(phone)] as const);
    const phone = phones.find(([one]) => one === id)?.[1];
    return {
      publicKey: sender.keys.publicKey,
      ...(phone === undefined ? {} : { phone }),
      phones: phones.map(([, shown]) => shown),
      ...(problem === undefined ? {} : { problem }),
    };
  }

  #shown({ id, name, sinceMs }: KeptPhone): PushedPhone {
    const takenMs = this.#lastTakenMs.get(id);
    const trouble = this.#posters
      .get(id)
      ?.troubles()
      .find(({ sentence }) => sentence !== undefined)?.sentence;
    return {
      name,
      sinceAt: toInstant(sinceMs),
      ...(takenMs === undefined ? {} : { lastTakenAt: toInstant(takenMs) }),
      ...(trouble === undefined ? {} : { trouble }),
    };
  }
}
