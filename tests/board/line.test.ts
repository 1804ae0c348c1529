import { Duplex } from 'node:stream';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boardSchema } from '../../shared/config/kit/hookup.js';
import { backOffMs } from '../../src/board/line/back-off.js';
import { FirmataFrames, longestSysexBytes } from '../../src/board/line/firmata-frames.js';
import { GuardedLine } from '../../src/board/line/guarded-line.js';
import { choosePort } from '../../src/board/serial/choose-port.js';
import { openErrorOf } from '../../src/board/serial/open-serial-port.js';
import { groupNamed } from '../../src/board/serial/port-group.js';

describe('FirmataFrames', () => {
  const analog = [0xe2, 0x10, 0x07];

  it('hands on whole messages however they are cut', () => {
    const frames = new FirmataFrames();
    const bytes = [...analog, 0xf9, 2, 4, 0xf0, 0x71, 0x41, 0x00, 0xf7];
    const out = bytes.flatMap((byte) => frames.push(Uint8Array.of(byte)));
    expect(out.map((frame) => [...frame])).toEqual([analog, [0xf9, 2, 4], [0xf0, 0x71, 0x41, 0x00, 0xf7]]);
    expect(frames.counts).toEqual({ passedFrameCount: 3, strayByteCount: 0, refusedFrameCount: 0 });
  });

  it('drops a message that lost a byte instead of mending it with the next one', () => {
    const frames = new FirmataFrames();
    expect(frames.push(Uint8Array.from([0xe2, 0x10, ...analog])).map((frame) => [...frame])).toEqual([
      analog,
    ]);
    expect(frames.counts.strayByteCount).toBe(2);
  });

  it('never throws, never holds more than one sysex, and finds the next message after any noise', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 6000 }), (noise) => {
        const frames = new FirmataFrames();
        frames.push(noise);
        const out = frames.push(Uint8Array.from(analog));
        expect([...(out.at(-1) ?? [])]).toEqual(analog);
      }),
    );
  });

  it('forgets an endless sysex', () => {
    const frames = new FirmataFrames();
    frames.push(Uint8Array.from([0xf0, ...Array<number>(longestSysexBytes * 3).fill(1)]));
    expect(frames.push(Uint8Array.from([1, 0xf7]))).toEqual([]);
    expect(frames.counts.strayByteCount).toBeGreaterThan(longestSysexBytes);
  });
});

describe('GuardedLine', () => {
  it('gives up a line that takes no more bytes', () => {
    const blocked = new Duplex({ read: () => undefined, write: () => undefined });
    const line = new GuardedLine(blocked, () => undefined);
    let closed = 0;
    line.on('close', () => closed++);
    for (let i = 0; i < 600; i++) line.write(new Uint8Array(12));
    expect(line.lostBecause).toBe('the line takes no more bytes (blocked)');
    expect(closed).toBe(1);
  });

  it('turns an error of the stream into one close', () => {
    const stream = new Duplex({ read: () => undefined, write: (_bytes, _encoding, done) => done() });
    const line = new GuardedLine(stream, () => undefined);
    const closes: unknown[] = [];
    line.on('close', () => closes.push(line.lostBecause));
    stream.destroy(new Error('bad file descriptor'));
    return new Promise<void>((resolve) => {
      setImmediate(() => {
        expect(closes).toEqual(['bad file descriptor']);
        resolve();
      });
    });
  });
});

describe('backOffMs()', () => {
  it('doubles from 1 s to 30 s, each at most halved by chance', () => {
    const firm = backOffMs(() => 0);
    expect(Array.from({ length: 7 }, () => firm.next().value)).toEqual([
      1000, 2000, 4000, 8000, 16_000, 30_000, 30_000,
    ]);
    const loose = backOffMs(() => 0.999_999);
    expect(loose.next().value).toBeCloseTo(500, 1);
  });
});

describe('choosePort()', () => {
  const ports = [
    { path: '/dev/ttyS0' },
    { path: '/dev/ttyACM0', serialNumber: '95735353232351A0B1C2' },
    { path: '/dev/ttyUSB0', serialNumber: 'A50285BI' },
  ];
  const board = (more: object) => boardSchema.parse({ id: 'b1', ...more });

  it('finds a board by its serial number, wherever it is in the list', () => {
    expect(choosePort(board({ serialNumber: 'a50285bi' }), ports)).toBe('/dev/ttyUSB0');
    expect(choosePort(board({ serialNumber: 'A50285BI' }), [...ports].reverse())).toBe('/dev/ttyUSB0');
  });

  it('takes the only board there is, and asks which when there are two', () => {
    expect(choosePort(board({}), ports.slice(0, 2))).toBe('/dev/ttyACM0');
    expect(() => choosePort(board({}), ports)).toThrow(
      /2 boards are plugged in; give boards its serialNumber/,
    );
    expect(() => choosePort(board({}), [])).toThrow('no board is plugged in; check its USB cable');
  });

  it('names what is there when the wanted one is not', () => {
    expect(() => choosePort(board({ serialNumber: 'X1' }), ports)).toThrow(
      /no board with serial number X1 .*A50285BI at \/dev\/ttyUSB0/,
    );
  });
});

describe('openErrorOf()', () => {
  // Texts as serialport 13 gives them on Linux: "Error: " + strerror + ", cannot open " + path.
  it.each([
    ['Error: Permission denied, cannot open /dev/ttyACM0', 'PORT_DENIED', /usermod -aG uucp/],
    ['Error Resource temporarily unavailable Cannot lock port', 'PORT_BUSY', /in use by another program/],
    ['Error: No such file or directory, cannot open /dev/ttyACM0', 'BOARD_NOT_FOUND', /there is no port/],
    ['Error: Input/output error', 'PORT_FAILED', /Input\/output error/],
  ])('%s is %s', (text, code, remedy) => {
    const error = openErrorOf('/dev/ttyACM0', new Error(text), 'uucp');
    expect(error.code).toBe(code);
    expect(error.message).toMatch(remedy);
  });

  it('groupNamed() finds the group that owns the port', () => {
    expect(groupNamed('root:x:0:\ndialout:x:20:kim\n', 20)).toBe('dialout');
    expect(groupNamed('root:x:0:\n', 0)).toBeUndefined();
  });
});
