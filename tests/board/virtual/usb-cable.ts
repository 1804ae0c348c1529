import { Duplex } from 'node:stream';
import { standardFirmata } from './firmware.js';
import { VirtualUno } from './uno.js';
import type { VirtualTime } from './virtual-time.js';

/** What may happen to bytes on their way from the board: return none, one or several for each. */
export type Mangle = (byte: number) => readonly number[];

/** StandardFirmata shows its version on the LED for 1.9 s before it listens. */
const bootMs = 2_000;

/** Firmata's "reset all": pins and reporting as after power on, without the boot. */
const softReset = 0xff;
let warmUno: VirtualUno | undefined;

/** One emulated Uno serves a whole test file, one rig after the other: a boot costs a second of real time. */
function bootedUno(): VirtualUno {
  const uno = warmUno ?? new VirtualUno(standardFirmata());
  warmUno = uno;
  if (uno.upForMs < bootMs) uno.runMs(bootMs - uno.upForMs);
  uno.bus.parts.length = 0;
  uno.analogV = () => 0;
  for (let pin = 2; pin < 14; pin++) uno.setInput(pin, false);
  return uno;
}

/**
 * An emulated Uno at the end of a USB cable that can be pulled and pushed. It runs already when its line is opened, as
 * boards with native USB do; after power was lost it boots first.
 */
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

  #powerWasLost = false;

  /** @param uno a board of its own, for tests with several */
  constructor(time: VirtualTime, uno = bootedUno()) {
    this.#time = time;
    this.uno = uno;
    this.uno.onByte = (byte) => this.#fromBoard(byte);
    time.powerUp(this.uno);
  }

  /** Reset button, or a power dip that the port survives. */
  reset(): void {
    this.uno.reset();
    this.#time.stir(bootMs);
  }

  open(): Duplex {
    this.openCount++;
    if (this.#powerWasLost) this.reset();
    else this.uno.receive(Buffer.from([softReset]));
    this.#powerWasLost = false;
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
    this.#powerWasLost = true;
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
