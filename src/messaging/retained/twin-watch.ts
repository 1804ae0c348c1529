import { statusSchema } from '../../../shared/facts/status.js';

/** Once may be what a broker remembered from before; twice in a row somebody else has been there meanwhile. */
const CERTAIN_AT = 2;
/** Longer than a pushed-out monitor waits before it comes back. */
const ALONE_AFTER_MS = 60_000;

function isAwake(text: string): boolean {
  try {
    return statusSchema.safeParse(JSON.parse(text)).data?.online === true;
  } catch (cause) {
    if (!(cause instanceof SyntaxError)) throw cause;
    return false;
  }
}

/**
 * Notices a second monitor of the same farm at the same broker. Both have the same client id, so each pushes the other out
 * (MQTT 3.1.1 §3.1.4), and all that each of them sees is a connection that ends; but whoever comes back finds the other's status.
 */
export class TwinWatch {
  readonly #monotonicMs: () => number;
  #upSinceMs: number | undefined;
  #wasUp = false;
  #strangersInARow = 0;

  constructor(monotonicMs: () => number) {
    this.#monotonicMs = monotonicMs;
  }

  up(): void {
    this.#upSinceMs = this.#monotonicMs();
  }

  down(): void {
    this.#wasUp = true;
    this.#upSinceMs = undefined;
  }

  /** The status that stood at the broker when we came. The first may be of our own last run. */
  found(status: string, ownStatus: string | undefined): void {
    if (!this.#wasUp) return;
    this.#strangersInARow = status !== ownStatus && isAwake(status) ? this.#strangersInARow + 1 : 0;
  }

  /** True until we have been left alone for a minute. */
  get hasTwin(): boolean {
    const aloneMs = this.#upSinceMs === undefined ? 0 : this.#monotonicMs() - this.#upSinceMs;
    if (aloneMs >= ALONE_AFTER_MS) this.#strangersInARow = 0;
    return this.#strangersInARow >= CERTAIN_AT;
  }
}
