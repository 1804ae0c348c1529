import type { AVRTWI, TWIEventHandler } from 'avr8js';

/** A part on the emulated I2C bus, as its data sheet describes it. Absent answers are NACKs. */
export interface I2cPart {
  readonly address: number;
  /** The master addressed the part; false: it does not acknowledge. */
  connect(write: boolean): boolean;
  write(byte: number): boolean;
  read(): number;
  stop(): void;
}

export class I2cBus implements TWIEventHandler {
  readonly #twi: AVRTWI;
  readonly parts: I2cPart[] = [];
  #selected: I2cPart | undefined;

  constructor(twi: AVRTWI) {
    this.#twi = twi;
  }

  start(): void {
    this.#twi.completeStart();
  }

  stop(): void {
    this.#selected?.stop();
    this.#selected = undefined;
    this.#twi.completeStop();
  }

  connectToSlave(address: number, write: boolean): void {
    const part = this.parts.find((one) => one.address === address);
    this.#selected = part?.connect(write) === true ? part : undefined;
    this.#twi.completeConnect(this.#selected !== undefined);
  }

  writeByte(byte: number): void {
    this.#twi.completeWrite(this.#selected?.write(byte) ?? false);
  }

  readByte(): void {
    this.#twi.completeRead(this.#selected?.read() ?? 0xff);
  }
}
