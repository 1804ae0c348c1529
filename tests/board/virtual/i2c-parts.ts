import { crc8Sensirion } from '../../../src/board/parts/crc8.js';
import type { I2cPart } from './i2c-bus.js';

/**
 * SHT31 as its data sheet describes it: a single-shot command starts a measurement of 15.5 ms; a read before it is over,
 * or without one, is not acknowledged.
 */
export class Sht31Model implements I2cPart {
  readonly #nowMs: () => number;
  temperatureWord = 0x6666;
  humidityWord = 0x6666;
  /** Bits flipped on the wire, by byte. */
  noise: readonly number[] = [];
  #command: number[] = [];
  #readyAtMs = Number.POSITIVE_INFINITY;
  #reply: number[] = [];
  #place = 0;
  measuredCount = 0;
  earlyReadCount = 0;

  constructor(
    nowMs: () => number,
    readonly address = 0x44,
  ) {
    this.#nowMs = nowMs;
  }

  connect(write: boolean): boolean {
    this.#command = [];
    this.#place = 0;
    if (write) return true;
    if (this.#nowMs() >= this.#readyAtMs) return true;
    this.earlyReadCount++;
    return false;
  }

  write(byte: number): boolean {
    this.#command.push(byte);
    if (this.#command.length === 2 && this.#command[0] === 0x24 && this.#command[1] === 0x00) {
      this.#readyAtMs = this.#nowMs() + 15.5;
      this.measuredCount++;
      this.#reply = [this.temperatureWord, this.humidityWord].flatMap((word) => {
        const bytes = [word >> 8, word & 0xff];
        return [...bytes, crc8Sensirion(bytes)];
      });
    }
    return true;
  }

  read(): number {
    const byte = (this.#reply[this.#place] ?? 0xff) ^ (this.noise[this.#place] ?? 0);
    this.#place++;
    return byte;
  }

  stop(): void {
    if (this.#place >= this.#reply.length) this.#readyAtMs = Number.POSITIVE_INFINITY;
  }
}

/** A part with 16-bit registers behind a pointer, most significant byte first: MCP9808. */
export class RegisterModel implements I2cPart {
  readonly registers: Map<number, readonly number[]>;
  #pointer = 0;
  #place = 0;

  constructor(
    readonly address: number,
    registers: readonly (readonly [number, readonly number[]])[],
  ) {
    this.registers = new Map(registers);
  }

  connect(): boolean {
    this.#place = 0;
    return true;
  }

  write(byte: number): boolean {
    this.#pointer = byte;
    return true;
  }

  read(): number {
    return this.registers.get(this.#pointer)?.[this.#place++] ?? 0xff;
  }

  stop(): void {
    this.#place = 0;
  }
}

/** BH1750: opcodes; the count follows the light and the measurement time, and is ready after it. */
export class Bh1750Model implements I2cPart {
  readonly #nowMs: () => number;
  readonly address = 0x23;
  lx = 0;
  #time = 69;
  #readyAtMs = 0;
  #place = 0;

  constructor(nowMs: () => number) {
    this.#nowMs = nowMs;
  }

  connect(): boolean {
    this.#place = 0;
    return true;
  }

  write(byte: number): boolean {
    if ((byte & 0xf8) === 0x40) this.#time = (this.#time & 0x1f) | ((byte & 0x07) << 5);
    else if ((byte & 0xe0) === 0x60) this.#time = (this.#time & 0xe0) | (byte & 0x1f);
    else if (byte === 0x20) this.#readyAtMs = this.#nowMs() + (120 * this.#time) / 69;
    return true;
  }

  read(): number {
    const done = this.#nowMs() >= this.#readyAtMs;
    const count = done ? Math.min(0xffff, Math.round((this.lx * 1.2 * this.#time) / 69)) : 0;
    return this.#place++ === 0 ? count >> 8 : count & 0xff;
  }

  stop(): void {
    this.#place = 0;
  }
}

/** NAU7802: registers with auto-increment, power-up sequence, self-calibration, ten conversions a second. */
export class Nau7802Model implements I2cPart {
  readonly #nowMs: () => number;
  readonly address = 0x2a;
  counts = 0;
  bridgeBroken = false;
  #registers = new Uint8Array(0x20);
  #pointer = 0;
  #isPointer = false;
  #startedAtMs = 0;
  #lastReadMs = Number.NEGATIVE_INFINITY;
  #calibratedAtMs = 0;
  wakeCount = 0;

  constructor(nowMs: () => number) {
    this.#nowMs = nowMs;
  }

  /** Supply gone and back. */
  powerDip(): void {
    this.#registers = new Uint8Array(0x20);
  }

  connect(write: boolean): boolean {
    this.#isPointer = write;
    return true;
  }

  write(byte: number): boolean {
    if (this.#isPointer) {
      this.#pointer = byte;
      this.#isPointer = false;
      return true;
    }
    this.#set(this.#pointer++, byte);
    return true;
  }

  #set(register: number, byte: number): void {
    if (register === 0x00 && (byte & 0x01) !== 0) {
      this.#registers.fill(0);
      this.wakeCount++;
    } else if (register === 0x00) {
      const startsNow = (byte & 0x10) !== 0 && ((this.#registers[0] ?? 0) & 0x10) === 0;
      if (startsNow) this.#startedAtMs = this.#nowMs();
      this.#registers[0] = (byte & 0x97) | ((byte & 0x02) !== 0 ? 0x08 : 0);
    } else if (register === 0x02 && (byte & 0x04) !== 0) {
      this.#calibratedAtMs = this.#nowMs() + 350;
      this.#registers[2] = byte;
    } else this.#registers[register] = byte;
  }

  read(): number {
    return this.#get(this.#pointer++);
  }

  #get(register: number): number {
    const stored = this.#registers[register] ?? 0xff;
    if (register === 0x00) {
      const running = (stored & 0x10) !== 0;
      const ready = running && this.#nowMs() - Math.max(this.#startedAtMs, this.#lastReadMs) >= 100;
      return stored | (ready ? 0x20 : 0);
    }
    if (register === 0x02 && (stored & 0x04) !== 0 && this.#nowMs() >= this.#calibratedAtMs) {
      this.#registers[2] = (stored & ~0x04) | (this.bridgeBroken ? 0x08 : 0);
      return this.#registers[2] ?? 0;
    }
    if (register < 0x12 || register > 0x14) return stored;
    if (register === 0x14) this.#lastReadMs = this.#nowMs();
    return (this.counts >> (8 * (0x14 - register))) & 0xff;
  }

  stop(): void {
    this.#isPointer = false;
  }
}
