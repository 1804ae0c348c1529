import { AVRUSART, type CPU, usart0Config } from 'avr8js';

const received = 0x80;
const dataRegisterEmpty = 0x20;
const frequencyHz = 16_000_000;

interface Interrupt {
  readonly flagRegister: number;
  readonly flagMask: number;
  constant?: boolean;
}

/**
 * The serial port of an emulated ATmega328P, with three defects of avr8js 0.21.1 made good that hang links now and then: a
 * write to UCSRA wipes RXC and UDRE, a write to UCSRB drops a pending received byte, and UDRE is cleared on interrupt
 * entry though it is level-triggered. Arduino's HardwareSerial does the first two for every byte that it sends.
 */
export class Uart {
  readonly #usart: AVRUSART;
  readonly #waiting: number[] = [];

  constructor(cpu: CPU, onByte: (byte: number) => void) {
    const usart = new AVRUSART(cpu, usart0Config, frequencyHz);
    this.#usart = usart;
    const { UDRE, RXC } = usart as unknown as { UDRE: Interrupt; RXC: Interrupt };
    UDRE.constant = true;
    let unread = false;
    const keepFlags = (register: number): void => {
      const write = cpu.writeHooks[register];
      cpu.writeHooks[register] = (value, oldValue, address, mask) => {
        const empty = (cpu.data[usart0Config.UCSRA] ?? 0) & dataRegisterEmpty;
        const handled = write?.(value, oldValue, address, mask);
        if (empty !== 0) cpu.setInterruptFlag(UDRE as never);
        if (unread) cpu.setInterruptFlag(RXC as never);
        return handled ?? false;
      };
    };
    keepFlags(usart0Config.UCSRA);
    keepFlags(usart0Config.UCSRB);
    const read = cpu.readHooks[usart0Config.UDR];
    cpu.readHooks[usart0Config.UDR] = (address) => {
      unread = false;
      return read?.(address) ?? 0;
    };
    usart.onRxComplete = () => {
      unread = true;
      this.#feed();
    };
    usart.onByteTransmit = onByte;
    cpu.data[usart0Config.UCSRA] = (cpu.data[usart0Config.UCSRA] ?? 0) & ~received;
  }

  /** Bytes on the wire towards the board, one at a time at the line's speed. Lost while its receiver is off. */
  send(bytes: Uint8Array): void {
    if (!this.#usart.rxEnable) return;
    this.#waiting.push(...bytes);
    this.#feed();
  }

  /** Nothing is on its way to the board. */
  get idle(): boolean {
    return this.#waiting.length === 0 && !this.#usart.rxBusy;
  }

  #feed(): void {
    const [next] = this.#waiting;
    if (next === undefined || this.#usart.rxBusy) return;
    if (this.#usart.writeByte(next)) this.#waiting.shift();
  }
}
