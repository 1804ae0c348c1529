/** Bits of the remaining length in one byte, and the one that says that another byte follows: MQTT 3.1.1 §2.2.3. */
const LENGTH_BITS = 7;
const MORE_FOLLOWS = 0x80;
const MOST_LENGTH_BYTES = 4;

export interface Measured {
  /** Where in the chunk the packet ends, or the chunk. */
  readonly end: number;
  readonly isWhole: boolean;
}

/** Follows MQTT packets through the chunks of a connection, by their lengths alone (MQTT 3.1.1 §2.2). */
export class PacketGauge {
  #stage: 'type' | 'length' | 'body' = 'type';
  #lengthBytes = 0;
  #length = 0;

  /**
   * Goes on from `start` to the end of the packet that runs there, or of the chunk.
   * Undefined when the packet announces more than `mostBytes`, or no length at all.
   */
  measure(chunk: Buffer, start: number, mostBytes: number): Measured | undefined {
    let at = start;
    while (at < chunk.length) {
      if (this.#stage === 'type') {
        at += 1;
        this.#stage = 'length';
        this.#length = 0;
        this.#lengthBytes = 0;
      } else if (this.#stage === 'length') {
        const byte = chunk[at] ?? 0;
        at += 1;
        if (this.#lengthBytes === MOST_LENGTH_BYTES) return undefined;
        this.#length += (byte % MORE_FOLLOWS) * 2 ** (LENGTH_BITS * this.#lengthBytes);
        this.#lengthBytes += 1;
        if (byte < MORE_FOLLOWS) {
          if (this.#length > mostBytes) return undefined;
          this.#stage = 'body';
        }
      } else {
        const taken = Math.min(this.#length, chunk.length - at);
        at += taken;
        this.#length -= taken;
      }
      if (this.#stage === 'body' && this.#length === 0) {
        this.#stage = 'type';
        return { end: at, isWhole: true };
      }
    }
    return { end: at, isWhole: false };
  }
}
