import { Duplex } from 'node:stream';

class PairedStream extends Duplex {
  #other: PairedStream | undefined;
  #resumeOther: (() => void) | undefined;

  join(other: PairedStream): void {
    this.#other = other;
  }

  override _read(): void {
    const resume = this.#resumeOther;
    this.#resumeOther = undefined;
    // Later, as a socket would: a reader that asks for more inside its parser must not be given it there.
    if (resume !== undefined) queueMicrotask(resume);
  }

  override _write(chunk: Buffer, _encoding: BufferEncoding, done: (error?: Error | null) => void): void {
    this.#other?.accept(chunk, done);
  }

  override _final(done: (error?: Error | null) => void): void {
    this.#other?.push(null);
    done();
  }

  override _destroy(error: Error | null, done: (error?: Error | null) => void): void {
    const other = this.#other;
    this.#other = undefined;
    done(error);
    if (other !== undefined && !other.destroyed) setImmediate(() => other.destroy());
  }

  accept(chunk: Buffer, done: () => void): void {
    if (this.push(chunk)) done();
    else this.#resumeOther = done;
  }
}

/** Two ends of a connection inside this process: what is written to one is read from the other, with back-pressure. */
export function streamPair(): readonly [Duplex, Duplex] {
  const one = new PairedStream();
  const other = new PairedStream();
  one.join(other);
  other.join(one);
  return [one, other];
}
