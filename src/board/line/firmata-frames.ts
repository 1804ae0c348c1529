/**
 * Cuts the bytes of a Firmata line into whole, checked messages. firmata-io throws on malformed sysex, and collects an
 * endless one without limit; nothing reaches it that this has not passed.
 *
 * Protocol: Firmata 2.x, github.com/firmata/protocol, protocol.md. Data bytes have 7 bits; a byte of 0x80 and above starts
 * a message, or ends one (0xF7).
 */

const startSysex = 0xf0;
const endSysex = 0xf7;
const reportVersion = 0xf9;
const analogMapping = 0x6a;
const capabilities = 0x6c;
const text = 0x71;
const i2cReply = 0x77;
const firmware = 0x79;

/** The longest true message is the capability report of a 70-pin board, about 900 bytes. */
export const longestSysexBytes = 2048;

export interface FrameCounts {
  /** Whole messages handed on. */
  passedFrameCount: number;
  /** Bytes that belonged to no whole message: noise, or what was left of a message that lost a byte. */
  strayByteCount: number;
  /** Messages whose content firmata-io could not bear, or that nobody asked for. */
  refusedFrameCount: number;
}

export class FirmataFrames {
  readonly counts: FrameCounts = { passedFrameCount: 0, strayByteCount: 0, refusedFrameCount: 0 };
  #partial: number[] = [];
  #pinCount = 0;
  /** firmata-io appends every mapping to the one before: the first is the only one that is right. */
  #mapped = false;

  /** @returns the messages that these bytes complete, in order. */
  push(bytes: Uint8Array): Uint8Array[] {
    const frames: Uint8Array[] = [];
    for (const byte of bytes) {
      const frame = this.#take(byte);
      if (frame === undefined) continue;
      if (this.#bearable(frame)) {
        this.counts.passedFrameCount++;
        frames.push(Uint8Array.from(frame));
      } else this.counts.refusedFrameCount++;
    }
    return frames;
  }

  #take(byte: number): number[] | undefined {
    const partial = this.#partial;
    if (byte < 0x80) {
      if (partial.length === 0 || partial.length >= longestSysexBytes) {
        this.#drop(1);
        return undefined;
      }
      partial.push(byte);
      return partial[0] !== startSysex && partial.length === 3 ? this.#finish() : undefined;
    }
    if (byte === endSysex) {
      if (partial[0] === startSysex) {
        partial.push(byte);
        return this.#finish();
      }
      this.#drop(1);
      return undefined;
    }
    this.#drop(0);
    if (startsMessage(byte)) this.#partial = [byte];
    else this.counts.strayByteCount++;
    return undefined;
  }

  #finish(): number[] {
    const frame = this.#partial;
    this.#partial = [];
    return frame;
  }

  #drop(extraByteCount: number): void {
    this.counts.strayByteCount += this.#partial.length + extraByteCount;
    this.#partial = [];
  }

  #bearable(frame: readonly number[]): boolean {
    if (frame[0] !== startSysex) return true;
    const data = frame.slice(2, -1);
    switch (frame[1]) {
      case firmware:
        return data.length >= 2 && data.length % 2 === 0;
      case capabilities: {
        const pinCount = data.filter((byte) => byte === 0x7f).length;
        if (pinCount === 0 || data.at(-1) !== 0x7f) return false;
        this.#pinCount = pinCount;
        return true;
      }
      case analogMapping:
        if (this.#mapped || data.length === 0 || data.length !== this.#pinCount) return false;
        this.#mapped = true;
        return true;
      case i2cReply:
        return data.length >= 4 && data.length % 2 === 0;
      case text:
        return true;
      default:
        return false;
    }
  }
}

function startsMessage(byte: number): boolean {
  const command = byte & 0xf0;
  return byte === startSysex || byte === reportVersion || command === 0xe0 || command === 0x90;
}
