import { EventEmitter } from 'node:events';
import type { Duplex } from 'node:stream';
import { FirmataFrames, type FrameCounts } from './firmata-frames.js';

/** Bytes that may wait to be written. A Firmata command has a dozen; a line that holds more is blocked. */
const mostWaitingBytes = 4096;

/**
 * What stands between a serial line and firmata-io. It hands on whole, checked messages only, turns every failure into
 * one `lost` event, never throws into the stream, and stops writing to a line that does not drain.
 *
 * Events: `data` (one whole message), `close` (once), `error` never: `lostBecause` says why.
 */
export class GuardedLine extends EventEmitter {
  readonly #stream: Duplex;
  readonly #frames = new FirmataFrames();
  readonly #complain: (cause: unknown) => void;
  #lostBecause: string | undefined;
  #receivedByteCount = 0;
  #waitingBytes = 0;

  /** @param complain told when firmata-io threw on a message that passed the checks: a bug, not a fault of the line. */
  constructor(stream: Duplex, complain: (cause: unknown) => void) {
    super();
    this.#stream = stream;
    this.#complain = complain;
    stream.on('data', (bytes: Uint8Array) => this.#receive(bytes));
    stream.on('close', () => this.#lose('the line was closed'));
    stream.on('end', () => this.#lose('the line ended'));
    stream.on('error', (error: Error) => this.#lose(error.message));
  }

  /** Why the line is gone, or undefined while it stands. */
  get lostBecause(): string | undefined {
    return this.#lostBecause;
  }

  /** Bytes of any kind, to tell a board without Firmata from a silent one. */
  get receivedByteCount(): number {
    return this.#receivedByteCount;
  }

  get frameCounts(): Readonly<FrameCounts> {
    return this.#frames.counts;
  }

  /** firmata-io's side. The callback always comes, so that its `pending` does not grow. */
  write(bytes: Uint8Array, done?: () => void): void {
    if (this.#lostBecause !== undefined || this.#waitingBytes + bytes.length > mostWaitingBytes) {
      if (this.#lostBecause === undefined) this.#lose('the line takes no more bytes (blocked)');
      done?.();
      return;
    }
    this.#waitingBytes += bytes.length;
    try {
      this.#stream.write(bytes, (error) => {
        this.#waitingBytes -= bytes.length;
        if (error) this.#lose(error.message);
        done?.();
      });
    } catch (cause) {
      this.#complain(cause);
      this.#lose('the line throws when it is written to');
      done?.();
    }
  }

  /** Lets go of the line at once; a blocked one is not waited for. */
  close(): void {
    this.#lose('closed by the monitor');
    this.#stream.destroy();
  }

  #receive(bytes: Uint8Array): void {
    if (this.#lostBecause !== undefined) return;
    this.#receivedByteCount += bytes.length;
    for (const frame of this.#frames.push(bytes)) {
      try {
        this.emit('data', Buffer.from(frame));
      } catch (cause) {
        this.#complain(cause);
      }
    }
  }

  #lose(reason: string): void {
    if (this.#lostBecause !== undefined) return;
    this.#lostBecause = reason;
    this.emit('close');
  }
}
