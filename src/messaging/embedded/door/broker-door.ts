import { Duplex } from 'node:stream';
import { PacketGauge } from './packet-gauge.js';

/** A CONNECT with user, password and a will; the longest that a phone sends is some hundred bytes. */
const MOST_BEFORE_LOGIN_BYTES = 8_192;
/** A command has at most 16 kB; a longer one is read and answered, so that people learn why, up to this. */
const MOST_PACKET_BYTES = 262_144;
/** From here on whoever hands over what waited for a phone waits for the phone. */
const READER_IS_BEHIND_BYTES = 65_536;
/** A reader that is so far behind is hung up on; what was kept for its session comes when it is back. */
const MOST_UNREAD_BYTES = 1_048_576;

/** Why a connection is ended by us. */
export type ShownOut = 'packet-too-large' | 'reads-too-slowly' | 'gave-way';

/**
 * A connection to the own broker from outside. Until its login is through one packet of a few kB passes and the rest stays with
 * the sender; no packet is larger than any of ours; and a reader that does not read is hung up on before it costs much.
 */
export class BrokerDoor extends Duplex {
  readonly #inner: Duplex;
  readonly #gauge = new PacketGauge();
  #stage: 'connecting' | 'held' | 'admitted' = 'connecting';
  #held: Buffer[] = [];
  #afterDrain: (() => void) | undefined;

  constructor(
    inner: Duplex,
    readonly source: string,
    private readonly onShownOut: (why: ShownOut) => void,
  ) {
    super({ writableHighWaterMark: READER_IS_BEHIND_BYTES, decodeStrings: true });
    this.#inner = inner;
    inner.on('data', (chunk: Buffer) => this.#take(chunk));
    inner.on('end', () => this.push(null));
    inner.on('error', (error) => this.destroy(error));
    inner.on('close', () => this.destroy());
    inner.on('drain', () => this.#drained());
  }

  /** The login is through: packets pass. */
  admit(): void {
    if (this.#stage === 'admitted') return;
    this.#stage = 'admitted';
    for (const chunk of this.#held.splice(0)) this.#take(chunk);
    if (!this.readableEnded) this.#inner.resume();
  }

  get isAdmitted(): boolean {
    return this.#stage === 'admitted';
  }

  showOut(why: ShownOut): void {
    if (this.destroyed) return;
    this.onShownOut(why);
    this.destroy();
  }

  #take(chunk: Buffer): void {
    if (this.destroyed) return;
    if (this.#stage === 'held') {
      this.#hold(chunk);
      return;
    }
    const most = this.#stage === 'admitted' ? MOST_PACKET_BYTES : MOST_BEFORE_LOGIN_BYTES;
    let at = 0;
    while (at < chunk.length) {
      const measured = this.#gauge.measure(chunk, at, most);
      if (measured === undefined) {
        this.showOut('packet-too-large');
        return;
      }
      at = measured.end;
      if (measured.isWhole && this.#stage === 'connecting') {
        this.#stage = 'held';
        this.push(chunk.subarray(0, at));
        this.#hold(chunk.subarray(at));
        return;
      }
    }
    if (!this.push(chunk)) this.#inner.pause();
  }

  #hold(rest: Buffer): void {
    if (rest.length > 0) this.#held.push(rest);
    this.#inner.pause();
  }

  #drained(): void {
    const go = this.#afterDrain;
    this.#afterDrain = undefined;
    go?.();
  }

  override _read(): void {
    if (this.#stage !== 'held') this.#inner.resume();
  }

  override _write(chunk: Buffer, _encoding: BufferEncoding, done: (error?: Error | null) => void): void {
    if (this.#inner.write(chunk) || this.#inner.writableLength < READER_IS_BEHIND_BYTES) done();
    else this.#afterDrain = done;
  }

  /** Counts what the reader has still to take, also what is corked or waits for it to go on. */
  override write(...args: unknown[]): boolean {
    const goesOn = (super.write as (...all: unknown[]) => boolean).apply(this, args);
    if (this.writableLength + this.#inner.writableLength > MOST_UNREAD_BYTES)
      this.showOut('reads-too-slowly');
    return goesOn;
  }

  override _final(done: (error?: Error | null) => void): void {
    this.#inner.end(() => done());
  }

  override _destroy(error: Error | null, done: (error?: Error | null) => void): void {
    this.#held = [];
    this.#inner.destroy();
    this.#drained();
    done(error);
  }
}
