import { MS_PER_HOUR, MS_PER_MIN } from '../../../shared/base/time-units.js';

/** So often the connection may end on one message before the others go ahead of it (judgement: an ordinary loss hits another one each time). */
const MOST_HANG_UPS = 3;
/** A message that still ends the connection when it goes alone waits so long, twice as long each time, up to an hour (judgement). */
const FIRST_WAIT_MS = MS_PER_MIN;
const LONGEST_WAIT_MS = MS_PER_HOUR;

interface SetAside {
  /** Elapsed time from which it may be tried again, alone. */
  tryAtMs: number;
  waitMs: number;
}

/**
 * Messages on which a broker hangs up, so that they do not hold back those behind them. MQTT 3.1.1 leaves a broker nothing else to
 * say (§3.3.5, §4.8): what it forbids or finds too large ends the connection, and begins anew with the same message. The oldest
 * unconfirmed one is suspected; one that is suspected again and again stands behind all others, and is tried alone. None is given up.
 */
export class HangUps {
  readonly #counts = new Map<number, number>();
  readonly #aside = new Map<number, SetAside>();

  constructor(private readonly monotonicMs: () => number) {}

  /** How many stand behind the others. */
  get asideCount(): number {
    return this.#aside.size;
  }

  isAside(seq: number): boolean {
    return this.#aside.has(seq);
  }

  /** The connection ended while this was the oldest that was not confirmed. True: from now on it stands behind the others. */
  endedOn(seq: number): boolean {
    const aside = this.#aside.get(seq);
    if (aside !== undefined) {
      aside.tryAtMs = this.monotonicMs() + aside.waitMs;
      aside.waitMs = Math.min(2 * aside.waitMs, LONGEST_WAIT_MS);
      return false;
    }
    const count = (this.#counts.get(seq) ?? 0) + 1;
    this.#counts.clear();
    this.#counts.set(seq, count);
    if (count < MOST_HANG_UPS) return false;
    this.#aside.set(seq, { tryAtMs: this.monotonicMs(), waitMs: FIRST_WAIT_MS });
    return true;
  }

  /** It was confirmed, or nobody waits for it any more. */
  over(seq: number): void {
    this.#counts.delete(seq);
    this.#aside.delete(seq);
  }

  /** Those that may be tried now, oldest first. */
  due(): readonly number[] {
    const nowMs = this.monotonicMs();
    return [...this.#aside].filter(([, { tryAtMs }]) => tryAtMs <= nowMs).map(([seq]) => seq);
  }

  /** The oldest that stands behind the others. */
  first(): number | undefined {
    return this.#aside.keys().next().value;
  }
}
