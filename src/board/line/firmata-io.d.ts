declare module 'firmata-io' {
  import type { EventEmitter } from 'node:events';

  interface FirmataPin {
    supportedModes: number[];
    mode: number | undefined;
    value: number;
    /** 127: not an analog pin. */
    analogChannel: number;
  }

  /** What this program uses of firmata-io 2.3 (lib/firmata.js). */
  class Firmata extends EventEmitter {
    constructor(
      transport: object,
      options: { reportVersionTimeout?: number; samplingInterval?: number; skipCapabilities?: boolean },
      ready?: (error?: Error) => void,
    );
    readonly MODES: { readonly INPUT: number; readonly OUTPUT: number; readonly ANALOG: number };
    readonly RESOLUTION: { readonly ADC: number | null };
    readonly pins: FirmataPin[];
    readonly analogPins: number[];
    readonly ports: number[];
    readonly version: { major?: number; minor?: number };
    readonly firmware: { name?: string; version?: { major: number; minor: number } };
    readonly isReady: boolean;
    /** Partly received message. */
    readonly buffer: number[];
    readonly reportVersionTimeoutId: NodeJS.Timeout;
    reportVersion(callback: () => void): void;
    queryFirmware(callback: () => void): void;
    reportAnalogPin(channel: number, on: 0 | 1): void;
    pinMode(pin: number, mode: number): void;
    digitalWrite(pin: number, value: 0 | 1): void;
    digitalRead(pin: number, callback: (value: number) => void): void;
    setSamplingInterval(ms: number): void;
    i2cConfig(options: { delay: number }): this;
    i2cWrite(address: number, bytes: number[]): this;
    i2cReadOnce(address: number, byteCount: number, callback: (bytes: number[]) => void): this;
    i2cReadOnce(
      address: number,
      register: number,
      byteCount: number,
      callback: (bytes: number[]) => void,
    ): this;
  }

  const builder: (transport?: unknown) => typeof Firmata;

  export type { Firmata };
  export default builder;
}
