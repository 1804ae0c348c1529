import { createHash, createHmac, timingSafeEqual } from 'node:crypto';
import type { IncomingMessage } from 'node:http';
import type { PageConfig } from '../../../../shared/config/page.js';
import { WordCheck } from '../../../host/doors/sealed-word.js';
import { sourceOf } from '../../../host/doors/source-of.js';
import { WrongTries } from '../../../host/doors/wrong-tries.js';
import { Refusal } from './respond.js';

const COOKIE = 'drybell-door';
const COOKIE_AGE_S = 180 * 24 * 3600;

const digest = (text: string): Buffer => createHash('sha256').update(text).digest();

/**
 * The optional word at the door. Whoever knows it gets a cookie made from what the configuration has of it, so that it survives a
 * restart and ends when the word is changed. Whoever says wrong words waits, and nobody else.
 */
export class AccessWord {
  readonly #tries: WrongTries;
  readonly #check: WordCheck | undefined;
  readonly #isOverTls: boolean;
  private readonly word: string | undefined;

  constructor(
    page: Pick<PageConfig, 'accessWord' | 'certFile'>,
    private readonly farm: string,
    monotonicMs: () => number,
  ) {
    this.word = page.accessWord;
    this.#isOverTls = page.certFile !== undefined;
    this.#tries = new WrongTries(monotonicMs);
    this.#check = this.word === undefined ? undefined : new WordCheck(this.word);
  }

  check(request: IncomingMessage): void {
    if (!this.admits(request))
      throw new Refusal(401, 'word-needed', 'This page asks for the access word of the farm first.');
  }

  /** The same for a program that keeps no cookies: it brings the word with each request (RFC 6750 §2.1). */
  async checkProgram(request: IncomingMessage): Promise<void> {
    const [, said] = /^Bearer +(\S.*)$/i.exec(request.headers.authorization ?? '') ?? [];
    if (said === undefined) return this.check(request);
    if (this.word !== undefined) await this.#mustFit(sourceOf(request.socket.remoteAddress), said);
  }

  admits(request: IncomingMessage): boolean {
    if (this.word === undefined) return true;
    const cookies = (request.headers.cookie ?? '').split(/;\s*/);
    const given = cookies.find((cookie) => cookie.startsWith(`${COOKIE}=`))?.slice(COOKIE.length + 1);
    return given !== undefined && timingSafeEqual(digest(given), digest(this.#token(this.word)));
  }

  /** The cookie for whoever says the right word; a Refusal otherwise. */
  async enter(request: IncomingMessage, said: string): Promise<string> {
    await this.#mustFit(sourceOf(request.socket.remoteAddress), said);
    return `${COOKIE}=${this.#token(this.word ?? '')}; HttpOnly; SameSite=Strict; Path=/; Max-Age=${COOKIE_AGE_S}${this.#isOverTls ? '; Secure' : ''}`;
  }

  async #mustFit(source: string, said: string): Promise<void> {
    if (this.#check === undefined)
      throw new Refusal(409, 'no-word', 'This page has no access word; it is open already.');
    const waitS = Math.ceil(this.#tries.waitMs(source) / 1000);
    if (waitS > 0) throw new Refusal(429, 'too-many-tries', `Too many wrong words; try again in ${waitS} s.`);
    const fits = await this.#check.fits(said);
    if (fits === undefined)
      throw new Refusal(503, 'busy', 'Too many words are being looked at; try again in a moment.');
    if (!fits) {
      this.#tries.wrong(source);
      throw new Refusal(403, 'wrong-word', 'That is not the access word; it stands under page.accessWord.');
    }
    this.#tries.right(source);
  }

  #token(word: string): string {
    return createHmac('sha256', word).update(`door of ${this.farm}`).digest('hex');
  }
}
