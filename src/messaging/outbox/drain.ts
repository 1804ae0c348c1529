import type { WaitingKind } from './fact-messages.js';
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

/** Empties the outbox into a connection, oldest first, and forgets what the broker has confirmed. */
export class Drain {
  readonly #outbox: Outbox;
  readonly #dress: (message: WaitingMessage) => string;
  #say: Say | undefined;
  #lastSentSeq = 0;
  #onTheWayCount = 0;
  #idle: (() => void)[] = [];

  /** @param dress the text to send now for a message that waited until now */
  constructor(outbox: Outbox, dress: (message: WaitingMessage) => string) {
    this.#outbox = outbox;
    this.#dress = dress;
  }

  /** The connection is there: begin with the oldest unconfirmed message. */
  start(say: Say): void {
    this.#say = say;
    this.#lastSentSeq = 0;
    this.#onTheWayCount = 0;
    this.pump();
  }

  /** The connection is gone: whatever was on its way waits again. */
  stop(): void {
    this.#say = undefined;
    this.#tellIdle();
  }

  #tellIdle(): void {
    for (const tell of this.#idle.splice(0)) tell();
  }

  /** Sends what fits into the window. */
  pump(): void {
    const say = this.#say;
    if (say === undefined) return;
    for (const message of this.#outbox.next(this.#lastSentSeq, WINDOW - this.#onTheWayCount)) {
      this.#lastSentSeq = message.seq;
      this.#onTheWayCount += 1;
      const { id, kind, topic, retain, seq } = message;
      say({ id, kind, topic, payload: this.#dress(message), retain }, () => {
        if (this.#say !== say) return;
        this.#onTheWayCount -= 1;
        this.#outbox.delivered([seq]);
        this.pump();
      });
    }
    if (this.#onTheWayCount === 0) {
      this.#outbox.settle();
      this.#tellIdle();
    }
  }

  /** Resolves when nothing waits, when the connection ends, or after `patienceMs`. */
  async emptied(patienceMs: number): Promise<void> {
    if (this.#say === undefined || this.#outbox.waitingCount === 0) return;
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
