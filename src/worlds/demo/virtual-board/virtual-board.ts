import { Duplex } from 'node:stream';
import { analogMappingBytes, type BoardPins, capabilityBytes } from './board-pins.js';
import { FIRMATA, PIN_MODE, sysex, toSevenBit } from './firmata-bytes.js';
import { createFirmataParser, type HostMessage } from './firmata-parser.js';
import { createI2cBus, type I2cPart } from './i2c-bus.js';

/** What is connected to a virtual board. */
export interface VirtualWiring {
  readonly pins: BoardPins;
  /** What the converter compares with, under the present load. */
  supplyVolts(outputs: ReadonlyMap<number, boolean>): number;
  /** Volts on an analog channel now; undefined: nothing is connected, the input floats. */
  analogVolts(channel: number, outputs: ReadonlyMap<number, boolean>): number | undefined;
  readonly i2cParts: readonly I2cPart[];
  /** Level of an input pin, e.g. a button; undefined: nothing connected. */
  digitalIn?(pin: number): boolean | undefined;
}

/** The port's other end: what a host opens, plus the accidents that happen to boards. */
export interface VirtualBoard extends Duplex {
  /** Pins that the host has driven, by number. */
  readonly outputs: ReadonlyMap<number, boolean>;
  /** The cable is pulled: the stream closes. */
  unplug(): void;
  /** The firmware hangs (true) or answers again (false). */
  hang(hung: boolean): void;
  /** Reads the input pins again and reports those that changed. */
  inputsChanged(): void;
}

const FIRMWARE_MAJOR = 2;
const FIRMWARE_MINOR = 5;
const DEFAULT_INTERVAL_MS = 19;
const ADC_MAX = 1023;
const ADC_STEPS = 1024;
/** An open input shows about this, drifting; a hobbyist sees "some number", never an error. */
const FLOATING_COUNTS = 330;

/**
 * A board that runs StandardFirmata, at the level of its bytes: version and firmware at start, capability and analog
 * mapping, analog and digital reporting, I2C, sampling interval. Timers are real and never keep a process alive.
 */
export function createVirtualBoard(wiring: VirtualWiring): VirtualBoard {
  const { pins } = wiring;
  const outputs = new Map<number, boolean>();
  const modes = new Map<number, number>();
  const reportedChannels = new Set<number>();
  const reportedPorts = new Map<number, number>();
  let hung = false;
  let intervalMs = DEFAULT_INTERVAL_MS;
  let timer: NodeJS.Timeout | undefined;
  let floatDrift = 0;

  let outgoing: number[] = [];
  const flush = (): void => {
    const bytes = outgoing;
    outgoing = [];
    if (!stream.destroyed && bytes.length > 0) stream.push(Buffer.from(bytes));
  };
  // as on a real line no answer comes within the call that asked
  const send = (bytes: readonly number[]): void => {
    if (hung) return;
    if (outgoing.length === 0) setImmediate(flush);
    outgoing.push(...bytes);
  };
  const i2c = createI2cBus(wiring.i2cParts, send);

  const sendAnalog = (channel: number): void => {
    const volts = wiring.analogVolts(channel, outputs);
    floatDrift = (floatDrift + 7) % 40;
    const counts =
      volts === undefined
        ? FLOATING_COUNTS + floatDrift
        : Math.max(0, Math.min(ADC_MAX, Math.floor((volts * ADC_STEPS) / wiring.supplyVolts(outputs))));
    send([FIRMATA.analogMessage | channel, counts & 0x7f, (counts >> 7) & 0x7f]);
  };
  const portLevels = (port: number): number => {
    let levels = 0;
    for (let bit = 0; bit < 8; bit++) {
      const pin = port * 8 + bit;
      const isOutput = modes.get(pin) === PIN_MODE.output;
      const level = isOutput
        ? outputs.get(pin)
        : (wiring.digitalIn?.(pin) ?? modes.get(pin) === PIN_MODE.pullup);
      if (level) levels |= 1 << bit;
    }
    return levels;
  };
  const sendPort = (port: number, force: boolean): void => {
    const levels = portLevels(port);
    if (!force && reportedPorts.get(port) === levels) return;
    reportedPorts.set(port, levels);
    send([FIRMATA.digitalMessage | port, levels & 0x7f, (levels >> 7) & 0x7f]);
  };
  const schedule = (): void => {
    clearInterval(timer);
    timer = undefined;
    if (reportedChannels.size === 0 && !i2c.busy) return;
    timer = setInterval(() => {
      for (const channel of reportedChannels) sendAnalog(channel);
      i2c.sample();
    }, intervalMs);
    timer.unref();
  };
  const sendVersion = (): void => send([FIRMATA.reportVersion, FIRMWARE_MAJOR, FIRMWARE_MINOR]);
  const sendFirmware = (): void => {
    const name = [...pins.firmwareName].map((letter) => letter.charCodeAt(0));
    send(sysex(FIRMATA.reportFirmware, [FIRMWARE_MAJOR, FIRMWARE_MINOR, ...toSevenBit(name)]));
  };
  const reset = (): void => {
    reportedChannels.clear();
    reportedPorts.clear();
    outputs.clear();
    modes.clear();
    intervalMs = DEFAULT_INTERVAL_MS;
    schedule();
  };

  const onSysex = (command: number, data: readonly number[]): void => {
    if (command === FIRMATA.reportFirmware) sendFirmware();
    else if (command === FIRMATA.capabilityQuery)
      send(sysex(FIRMATA.capabilityResponse, capabilityBytes(pins)));
    else if (command === FIRMATA.analogMappingQuery)
      send(sysex(FIRMATA.analogMappingResponse, analogMappingBytes(pins)));
    else if (command === FIRMATA.samplingInterval) {
      intervalMs = Math.max(1, (data[0] ?? 0) | ((data[1] ?? 0) << 7));
      schedule();
    } else if (command === FIRMATA.i2cConfig) i2c.enable();
    else if (command === FIRMATA.i2cRequest) {
      i2c.request(data);
      schedule();
    } else if (command === FIRMATA.pinStateQuery) {
      const pin = data[0] ?? 0;
      send(
        sysex(FIRMATA.pinStateResponse, [pin, modes.get(pin) ?? PIN_MODE.output, outputs.get(pin) ? 1 : 0]),
      );
    }
  };
  const onMessage = (message: HostMessage): void => {
    if (hung) return;
    if (message.kind === 'sysex') {
      onSysex(message.command, message.data);
      return;
    }
    const { status, first, second } = message;
    const low = status & 0x0f;
    if (status === FIRMATA.reportVersion) sendVersion();
    else if (status === FIRMATA.systemReset) reset();
    else if (status === FIRMATA.pinMode) modes.set(first, second);
    else if (status === FIRMATA.pinValue) outputs.set(first, second === 1);
    else if ((status & 0xf0) === FIRMATA.reportAnalog) {
      if (first === 0) reportedChannels.delete(low);
      else {
        reportedChannels.add(low);
        sendAnalog(low);
      }
      schedule();
    } else if ((status & 0xf0) === FIRMATA.reportDigital) {
      if (first === 0) reportedPorts.delete(low);
      else sendPort(low, true);
    } else if ((status & 0xf0) === FIRMATA.digitalMessage) {
      const levels = first | (second << 7);
      for (let bit = 0; bit < 8; bit++)
        if (modes.get(low * 8 + bit) === PIN_MODE.output)
          outputs.set(low * 8 + bit, (levels & (1 << bit)) > 0);
    }
  };
  const parse = createFirmataParser(onMessage);

  const stream = new Duplex({
    read: () => undefined,
    write: (chunk: Buffer, _encoding, done) => {
      for (const byte of chunk) parse(byte);
      done();
    },
    destroy: (error, done) => {
      clearInterval(timer);
      done(error);
    },
  });
  // a board restarts when its port is opened, and says who it is
  setImmediate(() => {
    stream.emit('open');
    sendVersion();
    sendFirmware();
  });

  return Object.assign(stream, {
    outputs,
    unplug: () => {
      stream.destroy();
    },
    hang: (isHung: boolean) => {
      hung = isHung;
    },
    inputsChanged: () => {
      for (const port of [...reportedPorts.keys()]) sendPort(port, false);
    },
  });
}
