import { toInstant } from '../../shared/base/ids.js';
import { MS_PER_MIN } from '../../shared/base/time-units.js';
import type { SignOfLifeConfig } from '../../shared/config/sign-of-life.js';
import { errorText } from './wire/messaging-error.js';
import type { MessagingLog } from './wire/messaging-log.js';

const PATIENCE_MS = 10_000;

export interface SignOfLifeOptions {
  readonly farm: string;
  readonly config: SignOfLifeConfig;
  readonly nowMs: () => number;
  readonly monotonicMs: () => number;
  /** What is wrong with the watchman, in a word each. */
  readonly wrong: () => readonly string[];
  readonly log: MessagingLog;
}

/**
 * Tells an address of the farm's choice now and then that the monitor works, so that something that is not on this machine notices when it
 * does not. Asked by the loop that does the work: when that stands still, the address hears nothing.
 */
export class SignOfLife {
  readonly #options: SignOfLifeOptions;
  #dueMs = 0;
  #post: Promise<void> | undefined;
  readonly #stop = new AbortController();
  #isAway = false;

  constructor(options: SignOfLifeOptions) {
    this.#options = options;
    this.#dueMs = options.monotonicMs();
  }

  beat(): void {
    const { monotonicMs, config } = this.#options;
    if (this.#post !== undefined || monotonicMs() < this.#dueMs) return;
    this.#dueMs = monotonicMs() + config.everyMin * MS_PER_MIN;
    this.#post = this.#tell().finally(() => {
      this.#post = undefined;
    });
  }

  /** Resolves when none is on its way. */
  async idle(): Promise<void> {
    await this.#post;
  }

  async close(): Promise<void> {
    this.#stop.abort();
    await this.idle();
  }

  async #tell(): Promise<void> {
    const { farm, config, nowMs, wrong, log } = this.#options;
    const late = new AbortController();
    const timer = setTimeout(() => late.abort(), PATIENCE_MS);
    const cut = () => late.abort();
    this.#stop.signal.addEventListener('abort', cut);
    let trouble: string | undefined;
    try {
      const said = { farm, at: toInstant(nowMs()), ok: wrong().length === 0, wrong: wrong() };
      const answer = await fetch(config.url, {
        method: 'POST',
        headers: { 'Content-Type': 'application/json' },
        body: JSON.stringify(said),
        redirect: 'manual',
        signal: late.signal,
      });
      await answer.body?.cancel();
      if (!answer.ok) trouble = `answered ${answer.status}`;
    } catch (cause) {
      trouble = late.signal.aborted ? `did not answer within ${PATIENCE_MS / 1000} s` : errorText(cause);
    } finally {
      clearTimeout(timer);
      this.#stop.signal.removeEventListener('abort', cut);
    }
    if (this.#stop.signal.aborted) return;
    const { host } = new URL(config.url);
    if (trouble !== undefined && !this.#isAway) log.warn({ host, trouble }, 'sign-of-life-not-taken');
    if (trouble === undefined && this.#isAway) log.info({ host }, 'sign-of-life-taken-again');
    this.#isAway = trouble !== undefined;
  }
}
