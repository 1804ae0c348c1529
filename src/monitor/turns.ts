type Work = () => Promise<unknown>;

/** One thing at a time, in the order it came; but a reading goes before all commands that wait, since a call may come of it. */
export class Turns {
  readonly #readings: Work[] = [];
  readonly #rest: Work[] = [];
  #isRunning = false;

  /** Runs when it is its turn; what it throws is the caller's, and the next goes on. */
  take<T>(work: () => Promise<T>, isReading = false): Promise<T> {
    return new Promise<T>((resolve, reject) => {
      (isReading ? this.#readings : this.#rest).push(() => work().then(resolve, reject));
      void this.#run();
    });
  }

  async #run(): Promise<void> {
    if (this.#isRunning) return;
    this.#isRunning = true;
    // begins after whoever asked has gone on, as a promise would
    await Promise.resolve();
    for (;;) {
      const work = this.#readings.shift() ?? this.#rest.shift();
      if (work === undefined) break;
      await work();
    }
    this.#isRunning = false;
  }
}
