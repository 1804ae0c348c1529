import { FIRMATA, fromSevenBit, sysex, toSevenBit } from './firmata-bytes.js';

/** A part on the I2C bus. */
export interface I2cPart {
  readonly address: number;
  write(bytes: readonly number[]): void;
  /** Up to `count` bytes; fewer or none when it does not answer. */
  read(count: number): readonly number[];
}

const READ_MODE_MASK = 0x18;
const MODE = { write: 0x00, readOnce: 0x08, readContinuously: 0x10, stop: 0x18 } as const;

interface StandingRead {
  readonly address: number;
  readonly register: number | undefined;
  readonly count: number;
}

export interface I2cBus {
  enable(): void;
  request(data: readonly number[]): void;
  /** Continuous reads, once per sampling interval. */
  sample(): void;
  readonly busy: boolean;
}

/** The firmware's I2C half, its one odd habit included: after "Too few bytes" it sends its stale buffer all the same. */
export function createI2cBus(parts: readonly I2cPart[], send: (bytes: readonly number[]) => void): I2cBus {
  let enabled = false;
  let standing: StandingRead[] = [];
  let buffer: number[] = [];

  const readOut = ({ address, register, count }: StandingRead): void => {
    const part = parts.find((one) => one.address === address);
    if (part !== undefined && register !== undefined) part.write([register]);
    const got = part?.read(count) ?? [];
    if (got.length < count)
      send(
        sysex(FIRMATA.stringData, toSevenBit([...'I2C: Too few bytes received'].map((c) => c.charCodeAt(0)))),
      );
    buffer = Array.from({ length: count }, (_, i) => got[i] ?? buffer[i] ?? 0);
    send(sysex(FIRMATA.i2cReply, toSevenBit([address, register ?? 0, ...buffer])));
  };

  return {
    enable: () => {
      enabled = true;
    },
    get busy() {
      return standing.length > 0;
    },
    sample: () => {
      for (const read of standing) readOut(read);
    },
    request: (data) => {
      const [address, modeByte, ...rest] = data;
      if (!enabled || address === undefined || modeByte === undefined) return;
      const bytes = fromSevenBit(rest);
      const mode = modeByte & READ_MODE_MASK;
      if (mode === MODE.write) {
        parts.find((one) => one.address === address)?.write(bytes);
      } else if (mode === MODE.stop) {
        standing = standing.filter((read) => read.address !== address);
      } else {
        const [first, second] = bytes;
        if (first === undefined) return;
        const read =
          second === undefined
            ? { address, register: undefined, count: first }
            : { address, register: first, count: second };
        if (mode === MODE.readContinuously) standing.push(read);
        else readOut(read);
      }
    },
  };
}
