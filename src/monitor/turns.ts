type Work = () => Promise<unknown>;

/** Commands that go between two readings although the second waits: a machine that reads without a pause must still answer (judgement). */
const COMMANDS_BETWEEN = 8;

/**
 * One thing at a time, in the order it came; but a reading goes before commands that wait, since a call may come of it. It waits for
 * eight of them at most, which is as many as are sure to get their turn between two readings.
 */
export class Turns {
  readonly #readings: Work[] = [];
  readonly #rest: Work[] = [];
  #isRunning = false;
  #sinceReading = COMMANDS_BETWEEN;

  /** Runs when it is its turn; what it throws is the caller's, and the next goes on. */
  take<T>(work: () => Promise<T>, isReading = false): Promise<T> {
    return new Promise<T>((resolve, reject) => {
      (isReading ? this.#readings : this.#rest).push(() => work().then(resolve, reject));
      void this.#run();
    });
  }

  #next(): Work | undefined {
    const isCommandsTurn = this.#sinceReading < COMMANDS_BETWEEN && this.#rest.length > 0;
    const reading = isCommandsTurn ? undefined : this.#readings.shift();
    this.#sinceReading = reading === undefined ? this.#sinceReading + 1 : 0;
    return reading ?? this.#rest.shift();
  }

  async #run(): Promise<void> {
    if (this.#isRunning) return;
    this.#isRunning = true;
    // begins after whoever asked has gone on, as a promise would
    await Promise.resolve();
    for (;;) {
      const work = this.#next();
      if (work === undefined) break;
      await work();
    }
    this.#isRunning = false;
  }
}
