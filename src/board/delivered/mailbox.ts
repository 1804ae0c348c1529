import { MS_PER_HOUR, MS_PER_MIN } from '../../../shared/base/time-units.js';
import type { HookupOf } from '../../../shared/config/kit/hookup.js';
import type { Delivery, NodeNews, ProbeSample } from '../../monitor/ports/ports.js';
import { readDelivery } from './read-delivery.js';

/** The same message again within this is a double: gateways and QoS 1 repeat within a second or two (judgement). */
const doubleWithinMs = 2_000;
/** Kept between two samples of the house; a node that floods keeps its newest. */
const mostWaiting = 50;

/**
 * What has come for one delivered probe and was not sampled yet. A kept message is not news when the broker hands it out; one
 * that comes twice or after a newer one counts once or not at all; silence beyond `staleAfterS` is no answer.
 */
export class Mailbox {
  readonly #hookup: HookupOf<'delivered'>;
  readonly #way: string;
  #waiting: ProbeSample[] = [];
  readonly #openedAtMs: number;
  #news: NodeNews | undefined;
  #lastText = '';
  #lastArrivedMs = Number.NEGATIVE_INFINITY;
  /** The newest reading's own time. */
  #lastAtMs = Number.NEGATIVE_INFINITY;
  #unread: string | undefined;

  constructor(
    private readonly probeId: string,
    hookup: HookupOf<'delivered'>,
    way: string,
    nowMs: number,
  ) {
    this.#hookup = hookup;
    this.#way = way;
    this.#openedAtMs = nowMs;
  }

  /** When it was last heard, and how its node is; undefined before. */
  get news(): NodeNews | undefined {
    return this.#news;
  }

  take({ text, arrivedAtMs, retained }: Delivery): void {
    const read = readDelivery(this.#hookup, text);
    if (read.kind === 'not-mine') return;
    if (read.kind === 'unreadable') {
      this.#unread = read.reason;
      return;
    }
    const { value, atMs, battery, signalDbm } = read;
    if (retained && atMs === undefined) return;
    const isDouble = text === this.#lastText && arrivedAtMs - this.#lastArrivedMs < doubleWithinMs;
    const observedAtMs = Math.min(atMs ?? arrivedAtMs, arrivedAtMs);
    if (isDouble || (atMs !== undefined && atMs <= this.#lastAtMs)) return;
    if (arrivedAtMs - observedAtMs > this.#hookup.staleAfterS * 1000) {
      this.#unread = `what came was ${ageWords(arrivedAtMs - observedAtMs)} old`;
      return;
    }
    this.#lastText = text;
    this.#lastArrivedMs = arrivedAtMs;
    this.#lastAtMs = atMs ?? this.#lastAtMs;
    this.#unread = undefined;
    this.#news = { heardAtMs: observedAtMs, battery, signalDbm };
    this.#waiting.push({ probeId: this.probeId, observedAtMs, rawValue: value });
    if (this.#waiting.length > mostWaiting) this.#waiting.shift();
  }

  /** What came since the last time; nothing while it may still come; no answer, with the reason, when it is overdue. */
  empty(nowMs: number, trouble: string | undefined): readonly ProbeSample[] {
    const came = this.#waiting;
    this.#waiting = [];
    if (came.length > 0) return came;
    const silentMs = nowMs - (this.#news?.heardAtMs ?? this.#openedAtMs);
    if (silentMs <= this.#hookup.staleAfterS * 1000 && this.#unread === undefined) return [];
    const heard =
      this.#news === undefined
        ? `nothing came over ${this.#way} yet`
        : `last heard ${ageWords(silentMs)} ago over ${this.#way}`;
    const reason = [heard, trouble ?? this.#unread].filter((part) => part !== undefined).join('; ');
    return [{ probeId: this.probeId, observedAtMs: nowMs, rawValue: undefined, reason }];
  }
}

function ageWords(ms: number): string {
  if (ms < 2 * MS_PER_MIN) return `${Math.round(ms / 1000)} s`;
  return ms < 2 * MS_PER_HOUR ? `${Math.round(ms / MS_PER_MIN)} min` : `${Math.round(ms / MS_PER_HOUR)} h`;
}
