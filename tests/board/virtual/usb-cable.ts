import { Duplex } from 'node:stream';
import { standardFirmata } from './firmware.js';
import { VirtualUno } from './uno.js';
import type { VirtualTime } from './virtual-time.js';

/** What may happen to bytes on their way from the board: return none, one or several for each. */
export type Mangle = (byte: number) => readonly number[];

/** StandardFirmata shows its version on the LED for 1.9 s before it listens. */
const bootMs = 2_000;

/** A virtual Uno at the end of a USB cable that can be pulled and pushed. Opening its line resets it, as DTR does. */
export class PluggedUno {
  readonly uno: VirtualUno;
  readonly #time: VirtualTime;
  #line: Duplex | undefined;
  plugged = true;
  /** The board hears nothing and says nothing, though the port stays open. */
  hung = false;
  mangle: Mangle | undefined;
  openCount = 0;
  /** Bytes that went to the board since it was built. */
  sentByteCount = 0;

  constructor(time: VirtualTime, program = standardFirmata()) {
    this.#time = time;
    this.uno = new VirtualUno(program, (byte) => this.#fromBoard(byte));
    time.powerUp(this.uno);
  }

  open(): Duplex {
    this.openCount++;
    this.uno.reset();
    this.#time.stir(bootMs);
    const line = new Duplex({
      read: () => undefined,
      write: (bytes: Buffer, _encoding, done) => {
        this.#time.stir();
        this.sentByteCount += bytes.length;
        if (this.plugged && !this.hung) this.uno.receive(bytes);
        done();
      },
      destroy: (error, done) => {
        if (this.#line === line) this.#line = undefined;
        done(error);
      },
    });
    this.#line = line;
    return line;
  }

  unplug(): void {
    this.plugged = false;
    this.#time.powerDown(this.uno);
    this.#line?.destroy();
    this.#line = undefined;
  }

  plugIn(): void {
    this.plugged = true;
    this.#time.powerUp(this.uno);
  }

  /** Bytes from nowhere towards the computer. */
  inject(bytes: readonly number[]): void {
    this.#line?.push(Buffer.from(bytes));
  }

  #fromBoard(byte: number): void {
    this.#time.stir();
    if (!this.plugged || this.hung) return;
    const out = this.mangle === undefined ? [byte] : this.mangle(byte);
    if (out.length > 0) this.#line?.push(Buffer.from(out));
  }
}
