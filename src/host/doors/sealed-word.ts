import { createHash, createHmac, randomBytes, scrypt, timingSafeEqual } from 'node:crypto';

/** OWASP Password Storage Cheat Sheet, scrypt: N = 2^14 (16 MB) with r = 8, p = 5. Half a second on a small board, once for each login. */
const LOG2_N = 14;
const BLOCK_SIZE = 8;
const PARALLEL = 5;
const SALT_BYTES = 16;
const HASH_BYTES = 32;
/** What scrypt may use: 128·N·r bytes, and room for the rest. */
const BYTES_PER_N_R = 128;
const ROOM_BYTES = 1 << 20;
/** Words that wait to be looked at; a farm has a handful of phones. */
const MOST_WAITING = 16;

/** The PHC string format (github.com/P-H-C/phc-string-format) of scrypt; salt and hash in base64 without padding. */
const SEALED = /^\$scrypt\$ln=(\d+),r=(\d+),p=(\d+)\$([A-Za-z0-9+/]+)\$([A-Za-z0-9+/]+)$/;

interface Seal {
  readonly n: number;
  readonly r: number;
  readonly p: number;
  readonly salt: Buffer;
  readonly hash: Buffer;
}

function parseSeal(text: string): Seal | undefined {
  const [, ln, r, p, salt = '', hash = ''] = SEALED.exec(text) ?? [];
  return ln === undefined
    ? undefined
    : {
        n: 2 ** Number(ln),
        r: Number(r),
        p: Number(p),
        salt: Buffer.from(salt, 'base64'),
        hash: Buffer.from(hash, 'base64'),
      };
}

function hashOf(word: string, { n, r, p, salt }: Omit<Seal, 'hash'>, bytes: number): Promise<Buffer> {
  const limits = { N: n, r, p, maxmem: BYTES_PER_N_R * n * r + ROOM_BYTES };
  return new Promise((resolve, reject) => {
    scrypt(word.normalize('NFC'), salt, bytes, limits, (error, hash) =>
      error === null ? resolve(hash) : reject(error),
    );
  });
}

/** A word as it may stand in a file that others could read: it can be checked, and not read back. */
export async function sealWord(word: string): Promise<string> {
  const seal = { n: 2 ** LOG2_N, r: BLOCK_SIZE, p: PARALLEL, salt: randomBytes(SALT_BYTES) };
  const hash = await hashOf(word, seal, HASH_BYTES);
  const base64 = (bytes: Buffer) => bytes.toString('base64').replace(/=+$/, '');
  return `$scrypt$ln=${LOG2_N},r=${BLOCK_SIZE},p=${PARALLEL}$${base64(seal.salt)}$${base64(hash)}`;
}

function sameText(a: string, b: string): boolean {
  const digest = (text: string) => createHash('sha256').update(text).digest();
  return timingSafeEqual(digest(a), digest(b));
}

/**
 * Checks words against one that stands in the configuration, sealed or in clear. Sealed ones are looked at one at a time, so that
 * guessing costs the house one core at most; a word that was right is known again at once.
 */
export class WordCheck {
  readonly #seal: Seal | undefined;
  readonly #key = randomBytes(HASH_BYTES);
  #known: Buffer | undefined;
  #before: Promise<unknown> = Promise.resolve();
  #waitingCount = 0;

  constructor(private readonly configured: string) {
    this.#seal = parseSeal(configured);
  }

  /** Undefined: too many wait already; nothing was looked at. */
  async fits(said: string): Promise<boolean | undefined> {
    const seal = this.#seal;
    if (seal === undefined) return sameText(said, this.configured);
    const mark = createHmac('sha256', this.#key).update(said.normalize('NFC')).digest();
    if (this.#known !== undefined && timingSafeEqual(mark, this.#known)) return true;
    if (this.#waitingCount >= MOST_WAITING) return undefined;
    this.#waitingCount += 1;
    const hashed = this.#before.then(() => hashOf(said, seal, seal.hash.length));
    this.#before = hashed.catch(() => undefined);
    try {
      const isRight = timingSafeEqual(await hashed, seal.hash);
      if (isRight) this.#known = mark;
      return isRight;
    } finally {
      this.#waitingCount -= 1;
    }
  }
}
