import { createHash, createHmac, timingSafeEqual } from 'node:crypto';
import type { IncomingMessage } from 'node:http';
import { Refusal } from './respond.js';

const COOKIE = 'drybell-door';
const COOKIE_AGE_S = 180 * 24 * 3600;
/** Wrong words taken before one must wait. */
const FREE_TRIES = 5;
const WAIT_MS = 30_000;

const digest = (text: string): Buffer => createHash('sha256').update(text).digest();

/**
 * The optional word at the door. Whoever knows it gets a cookie made from the word, so that it survives a restart
 * and ends when the word is changed. Wrong words are slowed for everybody: a farm has few phones, and guessing from
 * many addresses should be no faster.
 */
export class AccessWord {
  #wrongTries = 0;
  #closedUntilMs = 0;

  constructor(
    private readonly word: string | undefined,
    private readonly farm: string,
    private readonly nowMs: () => number,
  ) {}

  check(request: IncomingMessage): void {
    if (!this.admits(request))
      throw new Refusal(401, 'word-needed', 'This page asks for the access word of the farm first.');
  }

  admits(request: IncomingMessage): boolean {
    if (this.word === undefined) return true;
    const cookies = (request.headers.cookie ?? '').split(/;\s*/);
    const given = cookies.find((cookie) => cookie.startsWith(`${COOKIE}=`))?.slice(COOKIE.length + 1);
    return given !== undefined && timingSafeEqual(digest(given), digest(this.#token(this.word)));
  }

  /** The cookie for whoever says the right word; a Refusal otherwise. */
  enter(said: string): string {
    if (this.word === undefined)
      throw new Refusal(409, 'no-word', 'This page has no access word; it is open already.');
    if (this.nowMs() < this.#closedUntilMs)
      throw new Refusal(429, 'too-many-tries', 'Too many wrong words; wait half a minute and try again.');
    if (!timingSafeEqual(digest(said), digest(this.word))) {
      this.#wrongTries += 1;
      if (this.#wrongTries >= FREE_TRIES) {
        this.#wrongTries = 0;
        this.#closedUntilMs = this.nowMs() + WAIT_MS;
      }
      throw new Refusal(403, 'wrong-word', 'That is not the access word; it stands under page.accessWord.');
    }
    this.#wrongTries = 0;
    return `${COOKIE}=${this.#token(this.word)}; HttpOnly; SameSite=Strict; Path=/; Max-Age=${COOKIE_AGE_S}`;
  }

  #token(word: string): string {
    return createHmac('sha256', word).update(`door of ${this.farm}`).digest('hex');
  }
}
