/** How long after its acknowledgement a message may take to come back to us. */
const ECHO_PATIENCE_MS = 10_000;

/** One message that should come back, since we hear what we say. */
export interface Awaited {
  readonly topic: string;
  /** True: it came back. False: the broker acknowledged it and did not hand it on. */
  readonly tell: (cameBack: boolean) => void;
}

/**
 * Does the broker hand on what it acknowledges? MQTT 3.1.1 has no way for it to say that its rules forbid a topic (§3.3.5: it "MUST
 * either make a positive acknowledgement … or close the Network Connection"), so the monitor hears what it says itself.
 */
export class Echo {
  readonly #patienceMs: number;
  readonly #awaited = new Map<string, Awaited[]>();
  readonly #timers = new Set<NodeJS.Timeout>();

  constructor(patienceMs = ECHO_PATIENCE_MS) {
    this.#patienceMs = patienceMs;
  }

  /** A message goes out; it may come back before it is acknowledged. */
  sent(awaited: Awaited): void {
    const before = this.#awaited.get(awaited.topic) ?? [];
    this.#awaited.set(awaited.topic, [...before, awaited]);
  }

  /** The broker has acknowledged it: now it has to come back. */
  acknowledged(awaited: Awaited): void {
    if (!this.#waits(awaited)) return;
    const timer = setTimeout(() => {
      this.#timers.delete(timer);
      if (!this.#waits(awaited)) return;
      this.#forget(awaited);
      awaited.tell(false);
    }, this.#patienceMs);
    this.#timers.add(timer);
  }

  /** Something was said at this topic: the oldest that is awaited there. */
  heard(topic: string): void {
    const oldest = this.#awaited.get(topic)?.[0];
    if (oldest === undefined) return;
    this.#forget(oldest);
    oldest.tell(true);
  }

  /** The connection is gone, and with it what could have come back. */
  stop(): void {
    for (const timer of this.#timers) clearTimeout(timer);
    this.#timers.clear();
    this.#awaited.clear();
  }

  #waits(awaited: Awaited): boolean {
    return this.#awaited.get(awaited.topic)?.includes(awaited) === true;
  }

  #forget(awaited: Awaited): void {
    const left = (this.#awaited.get(awaited.topic) ?? []).filter((one) => one !== awaited);
    if (left.length === 0) this.#awaited.delete(awaited.topic);
    else this.#awaited.set(awaited.topic, left);
  }
}
