/** Wrong words that cost nothing: a thumb on a wet screen (judgement). */
const FREE_TRIES = 5;
const FIRST_WAIT_MS = 1_000;
/** Not longer: an app that had a wrong word is to be let in a minute after it was mended. 1,440 guesses a day (judgement). */
const LONGEST_WAIT_MS = 60_000;
/** Tries are forgotten when nothing wrong came for so long. */
const FORGOTTEN_AFTER_MS = 3_600_000;
/** Sources remembered; the one that was wrong longest ago is forgotten first. */
const MOST_SOURCES = 1_000;

interface Tries {
  readonly wrongCount: number;
  readonly lastWrongMs: number;
  readonly closedUntilMs: number;
}

/**
 * Wrong words, counted by where they come from: whoever guesses waits, each time twice as long, and nobody else does.
 * A try while one has to wait is not looked at, and does not make the wait longer.
 */
export class WrongTries {
  readonly #sources = new Map<string, Tries>();

  /** @param monotonicMs elapsed time */
  constructor(private readonly monotonicMs: () => number) {}

  /** Milliseconds until this source may try again; 0: now. */
  waitMs(source: string): number {
    return Math.max(0, (this.#sources.get(source)?.closedUntilMs ?? 0) - this.monotonicMs());
  }

  wrong(source: string): void {
    const nowMs = this.monotonicMs();
    const known = this.#sources.get(source);
    const isOld = known === undefined || nowMs - known.lastWrongMs > FORGOTTEN_AFTER_MS;
    const wrongCount = isOld ? 1 : known.wrongCount + 1;
    const doublings = wrongCount - FREE_TRIES;
    const waitMs = doublings < 0 ? 0 : Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** doublings);
    this.#sources.delete(source);
    this.#sources.set(source, { wrongCount, lastWrongMs: nowMs, closedUntilMs: nowMs + waitMs });
    const [oldest] = this.#sources.keys();
    if (this.#sources.size > MOST_SOURCES && oldest !== undefined) this.#sources.delete(oldest);
  }

  right(source: string): void {
    this.#sources.delete(source);
  }
}
