import type { WaitingKind } from './fact-messages.js';
import { HangUps } from './hang-ups.js';
import type { Outbox, WaitingMessage } from './outbox.js';

/** Messages on their way at once; MQTT keeps their order on one connection. */
const WINDOW = 32;

/** A message as it goes to the broker. */
export interface Said {
  readonly topic: string;
  readonly payload: string;
  readonly retain: boolean;
}

/** A message of the outbox on its way. */
export interface OnItsWay extends Said {
  readonly id: string;
  readonly kind: WaitingKind;
}

/** One connection's way to say a message: calls `kept` when the broker has it, and not at all when the connection fails. */
export type Say = (message: OnItsWay, kept: () => void) => void;

export interface DrainOptions {
  /** The text to send now for a message that waited until now. */
  readonly dress: (message: WaitingMessage) => string;
  readonly monotonicMs: () => number;
  /** The connection ended on this message again and again: from now on it stands behind all others. */
  readonly onSetAside?: ((message: WaitingMessage) => void) | undefined;
}

/**
 * Empties the outbox into a connection, oldest first, and forgets what the broker has confirmed. What the broker hangs up on stands
 * behind the others and goes alone.
 */
export class Drain {
  readonly #outbox: Outbox;
  readonly #options: DrainOptions;
  readonly #hangUps: HangUps;
  #say: Say | undefined;
  #lastSentSeq = 0;
  /** Sent and not confirmed, oldest first. */
  readonly #onTheWay = new Set<number>();
  #idle: (() => void)[] = [];

  constructor(outbox: Outbox, options: DrainOptions) {
    this.#outbox = outbox;
    this.#options = options;
    this.#hangUps = new HangUps(options.monotonicMs);
  }

  /** Messages that stand behind the others because the broker hangs up on them, and the topic of the first. */
  get setAside(): { readonly count: number; readonly topic: string } | undefined {
    const first = this.#hangUps.first();
    return first === undefined
      ? undefined
      : { count: this.#hangUps.asideCount, topic: this.#find(first)?.topic ?? '' };
  }

  /** The connection is there: begin with the oldest unconfirmed message. */
  start(say: Say): void {
    this.#say = say;
    this.#lastSentSeq = 0;
    this.#onTheWay.clear();
    this.pump();
  }

  /** The connection is gone: whatever was on its way waits again. */
  stop(): void {
    this.#say = undefined;
    const [oldest] = this.#onTheWay;
    this.#onTheWay.clear();
    if (oldest !== undefined && this.#hangUps.endedOn(oldest)) {
      const message = this.#find(oldest);
      if (message !== undefined) this.#options.onSetAside?.(message);
    }
    this.#tellIdle();
  }

  #find(seq: number): WaitingMessage | undefined {
    const [message] = this.#outbox.next(seq - 1, 1);
    return message?.seq === seq ? message : undefined;
  }

  #tellIdle(): void {
    for (const tell of this.#idle.splice(0)) tell();
  }

  /** Sends what fits into the window. */
  pump(): void {
    const say = this.#say;
    if (say === undefined) return;
    const room = WINDOW - this.#onTheWay.size;
    const waiting = this.#outbox.next(this.#lastSentSeq, room + this.#hangUps.asideCount);
    for (const message of waiting.filter(({ seq }) => !this.#hangUps.isAside(seq)).slice(0, room))
      this.#send(say, message);
    if (this.#onTheWay.size === 0) this.#sendOneAside(say);
    if (this.#onTheWay.size === 0) {
      this.#outbox.settle();
      this.#tellIdle();
    }
  }

  #send(say: Say, message: WaitingMessage): void {
    const { id, kind, topic, retain, seq } = message;
    this.#lastSentSeq = Math.max(this.#lastSentSeq, seq);
    this.#onTheWay.add(seq);
    say({ id, kind, topic, payload: this.#options.dress(message), retain }, () => {
      if (this.#say !== say) return;
      this.#onTheWay.delete(seq);
      this.#hangUps.over(seq);
      this.#outbox.delivered([seq]);
      this.pump();
    });
  }

  /** Nothing else waits: the next one that the broker hung up on, unless a newer word stands at its topic by now. */
  #sendOneAside(say: Say): void {
    for (const seq of this.#hangUps.due()) {
      const message = this.#find(seq);
      if (message === undefined) {
        this.#hangUps.over(seq);
        continue;
      }
      const standing = this.#outbox.retainedAt(message.topic) ?? '';
      if (!message.retain || standing === message.payload) return this.#send(say, message);
      this.#hangUps.over(seq);
      this.#outbox.delivered([seq]);
    }
  }

  /** Resolves when nothing is on its way, when the connection ends, or after `patienceMs`. */
  async emptied(patienceMs: number): Promise<void> {
    if (this.#onTheWay.size === 0) return;
    let timer: NodeJS.Timeout | undefined;
    await Promise.race([
      new Promise<void>((resolve) => this.#idle.push(resolve)),
      new Promise<void>((resolve) => {
        timer = setTimeout(resolve, patienceMs);
      }),
    ]);
    clearTimeout(timer);
  }
}
