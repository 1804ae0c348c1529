import {
  AVRADC,
  AVRIOPort,
  AVRTimer,
  AVRTWI,
  adcConfig,
  avrInstruction,
  CPU,
  PinState,
  portBConfig,
  portCConfig,
  portDConfig,
  timer0Config,
  timer1Config,
  timer2Config,
  twiConfig,
} from 'avr8js';
import { I2cBus } from './i2c-bus.js';
import { Uart } from './uart.js';

export const cyclesPerMs = 16_000;
const frequencyHz = 16_000_000;
const quarterLsbV = 5 / 1024 / 4;

/** An Uno: ATmega328P at 16 MHz with any firmware. Pins by Arduino number; analog inputs by channel. */
export class VirtualUno {
  readonly #program: Uint16Array;
  /** Takes what the board sends. */
  onByte: (byte: number) => void;
  /** Voltage at analog channel 0 to 7, asked at each conversion. */
  analogV: (channel: number) => number = () => 0;
  readonly bus: I2cBus;
  #cpu: CPU;
  #uart: Uart;
  #ports: { d: AVRIOPort; b: AVRIOPort };
  readonly #parts: I2cBus['parts'] = [];

  constructor(program: Uint16Array, onByte: (byte: number) => void = () => undefined) {
    this.#program = program;
    this.onByte = onByte;
    const booted = this.#boot();
    this.#cpu = booted.cpu;
    this.#uart = booted.uart;
    this.#ports = booted.ports;
    this.bus = booted.bus;
  }

  #boot() {
    const cpu = new CPU(this.#program, 2048);
    for (const config of [timer0Config, timer1Config, timer2Config]) new AVRTimer(cpu, config);
    const ports = { d: new AVRIOPort(cpu, portDConfig), b: new AVRIOPort(cpu, portBConfig) };
    new AVRIOPort(cpu, portCConfig);
    const adc = new AVRADC(cpu, adcConfig);
    adc.onADCRead = (input) => {
      const volts = 'channel' in input ? this.analogV(input.channel) : 0;
      const counts = Math.min(1023, Math.max(0, Math.floor((volts * 1024) / 5)));
      cpu.addClockEvent(() => adc.completeADCRead(counts), adc.sampleCycles);
    };
    const twi = new AVRTWI(cpu, twiConfig, frequencyHz);
    const bus = new I2cBus(twi);
    bus.parts.push(...this.#parts);
    twi.eventHandler = bus;
    return { cpu, ports, bus, uart: new Uart(cpu, (byte) => this.onByte(byte)) };
  }

  /** Reset button, power dip or watchdog: memory and pins are as after power on. */
  reset(): void {
    this.#parts.splice(0, this.#parts.length, ...this.bus.parts);
    const booted = this.#boot();
    this.#cpu = booted.cpu;
    this.#uart = booted.uart;
    this.#ports = booted.ports;
    Object.assign(this, { bus: booted.bus });
  }

  get upForMs(): number {
    return this.#cpu.cycles / cyclesPerMs;
  }

  receive(bytes: Uint8Array): void {
    this.#uart.send(bytes);
  }

  get receiverIdle(): boolean {
    return this.#uart.idle;
  }

  runMs(ms: number): void {
    const until = this.#cpu.cycles + ms * cyclesPerMs;
    while (this.#cpu.cycles < until) {
      avrInstruction(this.#cpu);
      this.#cpu.tick();
    }
  }

  /** True when the board drives this digital pin, 0 to 13, high. */
  isHigh(pin: number): boolean {
    return this.#pinState(pin) === PinState.High;
  }

  isPulledUp(pin: number): boolean {
    return this.#pinState(pin) === PinState.InputPullUp;
  }

  /** What is wired to an input pin. */
  setInput(pin: number, high: boolean): void {
    if (pin < 8) this.#ports.d.setPin(pin, high);
    else this.#ports.b.setPin(pin - 8, high);
  }

  #pinState(pin: number): PinState {
    return pin < 8 ? this.#ports.d.pinState(pin) : this.#ports.b.pinState(pin - 8);
  }
}

/** A voltage in the middle of one converter step. */
export function voltsForCounts(counts: number): number {
  return (counts * 5) / 1024 + quarterLsbV;
}
