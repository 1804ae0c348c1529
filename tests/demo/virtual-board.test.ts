import { createRequire } from 'node:module';
import type { Duplex } from 'node:stream';
import five from 'johnny-five';
import { afterEach, describe, expect, it } from 'vitest';
import { BOARD_PINS } from '../../src/worlds/demo/virtual-board/board-pins.js';
import { createFirmataParser, type HostMessage } from '../../src/worlds/demo/virtual-board/firmata-parser.js';
import { createSht31Part, sensirionCrc } from '../../src/worlds/demo/virtual-board/sht31-part.js';
import {
  createVirtualBoard,
  type VirtualBoard,
  type VirtualWiring,
} from '../../src/worlds/demo/virtual-board/virtual-board.js';

/** The few calls of the untyped package that these tests make. */
interface Host {
  readonly firmware: { readonly name: string; readonly version: { major: number; minor: number } };
  readonly analogPins: readonly number[];
  readonly MODES: Readonly<Record<'INPUT' | 'OUTPUT' | 'ANALOG' | 'I2C' | 'PULLUP', number>>;
  readonly pins: readonly { readonly supportedModes: readonly number[] }[];
  once(event: string, listener: (value: never) => void): void;
  on(event: string, listener: (value: never) => void): void;
  reportAnalogPin(channel: number, on: 0 | 1): void;
  setSamplingInterval(ms: number): void;
  pinMode(pin: number, mode: number): void;
  digitalWrite(pin: number, level: 0 | 1): void;
  digitalRead(pin: number, listener: (level: number) => void): void;
  i2cConfig(): void;
  i2cWrite(address: number, bytes: readonly number[]): void;
  i2cReadOnce(address: number, count: number, listener: (bytes: number[]) => void): void;
}
const { Firmata } = createRequire(import.meta.url)('firmata-io') as {
  Firmata: new (transport: Duplex, options: object) => Host;
};

const boards: VirtualBoard[] = [];
afterEach(() => {
  for (const board of boards.splice(0)) board.destroy();
});

function virtual(wiring: Partial<VirtualWiring> = {}): VirtualBoard {
  const board = createVirtualBoard({
    pins: BOARD_PINS.uno,
    supplyVolts: () => 5,
    analogVolts: () => undefined,
    i2cParts: [],
    ...wiring,
  });
  boards.push(board);
  return board;
}

async function connected(board: VirtualBoard): Promise<Host> {
  const host = new Firmata(board, {});
  await new Promise<void>((resolve) => host.once('ready', () => resolve()));
  return host;
}

const analogOnce = (host: Host, channel: number): Promise<number> =>
  new Promise((resolve) => {
    host.once(`analog-read-${channel}`, (counts: number) => {
      host.reportAnalogPin(channel, 0);
      resolve(counts);
    });
    host.reportAnalogPin(channel, 1);
  });

describe('virtual board, read by firmata-io', () => {
  it('says who it is and what its pins can do', async () => {
    const host = await connected(virtual());
    expect(host.firmware).toEqual({ name: 'StandardFirmata.ino', version: { major: 2, minor: 5 } });
    expect(host.analogPins).toEqual([14, 15, 16, 17, 18, 19]);
    expect(host.pins[13]?.supportedModes).toContain(host.MODES.PULLUP);
    expect(host.pins[18]?.supportedModes).toContain(host.MODES.I2C);
    expect(host.pins[0]?.supportedModes).toEqual([]);
  });

  it('carries all 1,024 counts exactly', async () => {
    let counts = 0;
    const host = await connected(virtual({ analogVolts: () => (counts * 5) / 1023 }));
    for (counts = 0; counts < 1024; counts++) expect(await analogOnce(host, 2)).toBe(counts);
  });

  it('keeps its sampling interval, and stops when reporting is turned off', async () => {
    const host = await connected(virtual({ analogVolts: () => 2.5 }));
    let count = 0;
    host.setSamplingInterval(2);
    await new Promise<void>((resolve) => {
      host.on('analog-read-1', () => {
        count++;
        if (count === 5) {
          host.reportAnalogPin(1, 0);
          resolve();
        }
      });
      host.reportAnalogPin(1, 1);
    });
    // the answer to a later question comes after anything that was still under way
    await analogOnce(host, 0);
    expect(count).toBeLessThanOrEqual(6);
  });

  it('measures temperature and humidity with a checked SHT31', async () => {
    const part = createSht31Part(0x44, () => ({ temperatureC: 25, relativeHumidityPct: 40 }));
    const host = await connected(virtual({ i2cParts: [part] }));
    host.i2cConfig();
    host.i2cWrite(0x44, [0x24, 0x00]);
    const bytes = await new Promise<number[]>((resolve) => host.i2cReadOnce(0x44, 6, resolve));
    // 0x6666 is 25.0 °C and 40.0 % by the data sheet's formula
    expect(bytes.slice(0, 2)).toEqual([0x66, 0x66]);
    expect(bytes.slice(3, 5)).toEqual([0x66, 0x66]);
    expect(bytes[2]).toBe(sensirionCrc([0x66, 0x66]));
    expect(sensirionCrc([0xbe, 0xef])).toBe(0x92);
  });

  it('sends its stale buffer after "Too few bytes" when the part is gone, as the firmware does', async () => {
    let there = true;
    const part = createSht31Part(0x44, () =>
      there ? { temperatureC: 23.5, relativeHumidityPct: 41 } : undefined,
    );
    const host = await connected(virtual({ i2cParts: [part] }));
    host.i2cConfig();
    const complaints: string[] = [];
    host.on('string', (text: string) => complaints.push(text));
    const measure = (): Promise<number[]> => {
      host.i2cWrite(0x44, [0x24, 0x00]);
      return new Promise((resolve) => host.i2cReadOnce(0x44, 6, resolve));
    };
    const good = await measure();
    expect(complaints).toEqual([]);
    there = false;
    expect(await measure()).toEqual(good);
    expect(complaints).toEqual(['I2C: Too few bytes received']);
  });

  it('switches probe power and reports a button', async () => {
    let pressed = false;
    const board = virtual({
      analogVolts: (_channel, outputs) => (outputs.get(7) ? 2 : 0),
      digitalIn: (pin) => (pin === 4 ? !pressed : undefined),
    });
    const host = await connected(board);
    expect(await analogOnce(host, 0)).toBe(0);
    host.pinMode(7, host.MODES.OUTPUT);
    host.digitalWrite(7, 1);
    expect(await analogOnce(host, 0)).toBe(Math.floor((2 * 1024) / 5));
    expect(board.outputs.get(7)).toBe(true);

    const levels: number[] = [];
    host.pinMode(4, host.MODES.PULLUP);
    await new Promise<void>((resolve) =>
      host.digitalRead(4, (level) => {
        levels.push(level);
        if (levels.length === 2) resolve();
        else {
          pressed = true;
          board.inputsChanged();
        }
      }),
    );
    expect(levels).toEqual([1, 0]);
  });

  it('closes when unplugged and says nothing while it hangs', async () => {
    const board = virtual({ analogVolts: () => 1 });
    const host = await connected(board);
    board.hang(true);
    let heard = false;
    host.on('analog-read-0', () => {
      heard = true;
    });
    host.reportAnalogPin(0, 1);
    const closed = new Promise<void>((resolve) => host.once('close', () => resolve()));
    board.unplug();
    await closed;
    expect(heard).toBe(false);
  });
});

describe('virtual board, read by johnny-five', () => {
  it('becomes ready and reads an analog sensor', async () => {
    const host = new Firmata(virtual({ analogVolts: () => 2.5 }), {});
    const options = { io: host, repl: false, debug: false, sigint: false };
    const board = new five.Board(options);
    await new Promise<void>((resolve) => board.on('ready', resolve));
    const counts = await new Promise<number>((resolve) => {
      board.analogRead(3, (value) => resolve(value));
    });
    expect(counts).toBe(512);
  });
});

describe('firmata parser', () => {
  it('skips noise, drops an overlong sysex, and finds the next message', () => {
    const messages: HostMessage[] = [];
    const parse = createFirmataParser((message) => messages.push(message));
    for (const byte of [0x01, 0x7f, 0xf0, ...new Array<number>(500).fill(1), 0xf7, 0xc2, 0x01, 0xf9])
      parse(byte);
    expect(messages).toEqual([
      { kind: 'message', status: 0xc2, first: 1, second: 0 },
      { kind: 'message', status: 0xf9, first: 0, second: 0 },
    ]);
  });
});
