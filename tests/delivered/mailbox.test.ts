import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { farmConfigSchema } from '../../shared/config/farm.js';
import { deliveredSchema } from '../../shared/config/kit/delivered.js';
import { probeSchema } from '../../shared/config/kit/probes.js';
import { atPointer } from '../../src/board/delivered/json-pointer.js';
import { createLineCutter } from '../../src/board/delivered/line-cutter.js';
import { Mailbox } from '../../src/board/delivered/mailbox.js';
import { readDelivery } from '../../src/board/delivered/read-delivery.js';

const hookup = (more: object = {}) =>
  deliveredSchema.parse({ part: 'delivered', topic: 'nodes/n1/air', ...more });
const START_MS = Date.parse('2026-04-18T04:00:00Z');
const box = (more: object = {}) =>
  new Mailbox('temp', hookup({ staleAfterS: 720, ...more }), 'topic nodes/n1/air', START_MS);
const came = (text: string, afterS: number, retained = false) => ({
  text,
  arrivedAtMs: START_MS + afterS * 1000,
  retained,
});
const values = (mailbox: Mailbox, afterS: number) =>
  mailbox.empty(START_MS + afterS * 1000, undefined).map(({ rawValue }) => rawValue);

describe('readDelivery() of numbers that are none', () => {
  it.each([
    ['1e999', {}],
    [`"${'9'.repeat(400)}"`, {}],
    ['1.7e308', { unit: 'kg' }],
    ['{"v":1,"t":1e300}', { path: '/v', timePath: '/t' }],
    ['{"v":1,"t":-1e14}', { path: '/v', timePath: '/t' }],
  ])('takes %s for no reading', (text, more) => {
    expect(readDelivery(hookup(more), text).kind).toBe('unreadable');
  });
});

describe('atPointer()', () => {
  it('gives the values of RFC 6901, section 5', () => {
    const document = {
      foo: ['bar', 'baz'],
      '': 0,
      'a/b': 1,
      'c%d': 2,
      'e^f': 3,
      'g|h': 4,
      'i\\j': 5,
      'k"l': 6,
      ' ': 7,
      'm~n': 8,
    };
    const wanted: [string, unknown][] = [
      ['', document],
      ['/foo', document.foo],
      ['/foo/0', 'bar'],
      ['/', 0],
      ['/a~1b', 1],
      ['/c%d', 2],
      ['/e^f', 3],
      ['/g|h', 4],
      ['/i\\j', 5],
      ['/k"l', 6],
      ['/ ', 7],
      ['/m~0n', 8],
    ];
    for (const [pointer, value] of wanted) expect(atPointer(document, pointer)).toEqual(value);
    for (const pointer of ['/foo/2', '/foo/-', '/foo/00', '/toString', '/foo/0/0'])
      expect(atPointer(document, pointer)).toBeUndefined();
  });
});

describe('readDelivery()', () => {
  const value = (more: object, text: string) => {
    const read = readDelivery(hookup(more), text);
    return read.kind === 'reading' ? read.value : read.kind;
  };

  it('takes a plain number, or one at a path, in any unit that fits', () => {
    expect(value({}, '21.5')).toBe(21.5);
    expect(value({ path: '/air/t' }, '{"air":{"t":21.5}}')).toBe(21.5);
    expect(value({ path: '/air/t' }, '{"air":{"t":"21.5"}}')).toBe(21.5);
    expect(value({ unit: 'degF' }, '70.7')).toBeCloseTo(21.5, 9);
    expect(value({ unit: 'K' }, '294.65')).toBeCloseTo(21.5, 9);
    expect(value({ unit: '/' }, '0.64')).toBe(64);
    expect(value({ unit: 'mV' }, '1735')).toBe(1.735);
    expect(value({ unit: 'kg' }, '3.2')).toBe(3200);
    expect(value({ where: { '/node': 'n2' }, path: '/t' }, '{"node":"n1","t":20}')).toBe('not-mine');
  });

  it('says of what it can not read what came', () => {
    expect(readDelivery(hookup({ path: '/t' }), '{"air":1}')).toEqual({
      kind: 'unreadable',
      reason: 'what came has no number at "/t": "{"air":1}"',
    });
    for (const text of ['', 'nan', '{"t":', 'null', '"21,5"', '{"t":1e999}'])
      expect(readDelivery(hookup({ path: text.startsWith('{') ? '/t' : '' }), text).kind).toBe('unreadable');
  });

  it('never throws, whatever a radio sends', () => {
    fc.assert(
      fc.property(fc.oneof(fc.string(), fc.json()), (text) => {
        readDelivery(hookup({ path: '/a/0', timePath: '/t', where: { '/n': 1 } }), text);
      }),
    );
  });
});

describe('a mailbox', () => {
  it('gives each reading once, stamped when it came, and nothing while the next may still come', () => {
    const mailbox = box();
    expect(values(mailbox, 60)).toEqual([]);
    mailbox.take(came('21.5', 70));
    mailbox.take(came('21.6', 100));
    expect(mailbox.empty(START_MS + 120_000, undefined)).toMatchObject([
      { rawValue: 21.5, observedAtMs: START_MS + 70_000 },
      { rawValue: 21.6, observedAtMs: START_MS + 100_000 },
    ]);
    expect(values(mailbox, 180)).toEqual([]);
  });

  it('says that it is overdue, since when, and why', () => {
    const mailbox = box();
    mailbox.take(came('21.5', 0));
    values(mailbox, 1);
    expect(values(mailbox, 720)).toEqual([]);
    expect(mailbox.empty(START_MS + 900_000, 'the broker is away')).toMatchObject([
      { rawValue: undefined, reason: 'last heard 15 min ago over topic nodes/n1/air; the broker is away' },
    ]);
    expect(box().empty(START_MS + 900_000, undefined)).toMatchObject([
      { rawValue: undefined, reason: 'nothing came over topic nodes/n1/air yet' },
    ]);
  });

  it('does not take what the broker had kept for new, unless its own time says so', () => {
    const kept = box();
    kept.take(came('21.5', 10, true));
    expect(values(kept, 20)).toEqual([]);
    expect(kept.news).toBeUndefined();
    const timed = box({ path: '/t', timePath: '/at' });
    timed.take(came('{"t":21.5,"at":"2026-04-17T04:00:00Z"}', 10, true));
    expect(timed.empty(START_MS + 20_000, undefined)).toMatchObject([
      { rawValue: undefined, reason: expect.stringContaining('what came was 24 h old') },
    ]);
    timed.take(came('{"t":21.5,"at":"2026-04-18T03:58:00Z"}', 30, true));
    expect(timed.empty(START_MS + 40_000, undefined)).toMatchObject([
      { rawValue: 21.5, observedAtMs: START_MS - 120_000 },
    ]);
  });

  it('counts a message that comes twice, or after a newer one, once', () => {
    const plain = box();
    plain.take(came('21.5', 10));
    plain.take(came('21.5', 11));
    expect(values(plain, 20)).toEqual([21.5]);
    plain.take(came('21.5', 310));
    expect(values(plain, 320)).toEqual([21.5]);
    const timed = box({ path: '/t', timePath: '/at' });
    const at = (t: number, s: number) => `{"t":${t},"at":${START_MS / 1000 + s}}`;
    timed.take(came(at(20, 100), 101));
    timed.take(came(at(19, 40), 102));
    timed.take(came(at(20, 100), 160));
    timed.take(came(at(21, 160), 161));
    expect(values(timed, 170)).toEqual([20, 21]);
    // a node whose clock is ahead is stamped when it came
    timed.take(came(at(22, 9_000), 220));
    expect(timed.empty(START_MS + 230_000, undefined)).toMatchObject([{ observedAtMs: START_MS + 220_000 }]);
  });

  it('keeps battery and signal of the node beside it', () => {
    const mailbox = box({ path: '/t', batteryPath: '/bat', signalPath: '/rssi' });
    mailbox.take(came('{"t":21,"bat":3.71,"rssi":-71}', 10));
    expect(mailbox.news).toEqual({ heardAtMs: START_MS + 10_000, battery: 3.71, signalDbm: -71 });
  });
});

describe('the line cutter', () => {
  it('puts lines together however they were cut, and throws an endless one away', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 9 }), { maxLength: 30 }), (cuts) => {
        const text = '{"t":1}\r\n\n{"t":2}\n{"t":3}\n';
        const lines: string[] = [];
        const cut = createLineCutter((line) => lines.push(line));
        let at = 0;
        for (const width of cuts) {
          cut(text.slice(at, at + width));
          at += width;
        }
        cut(text.slice(at));
        expect(lines).toEqual(['{"t":1}', '{"t":2}', '{"t":3}']);
      }),
    );
    const lines: string[] = [];
    const cut = createLineCutter((line) => lines.push(line));
    for (let piece = 0; piece < 30; piece++) cut('x'.repeat(1000));
    cut('\n{"t":4}\n');
    expect(lines).toEqual(['{"t":4}']);
  });
});

describe('the configuration of a delivered probe', () => {
  it('is taken as it is documented', () => {
    const probe = {
      id: 'temp',
      kind: 'air-temperature',
      bench: 'south',
      hookup: { part: 'delivered', topic: 'nodes/n1/air', path: '/air/t', unit: 'Cel', staleAfterS: 720 },
    };
    expect(probeSchema.parse(probe).hookup).toMatchObject(probe.hookup);
    for (const wrong of [{ topic: 'nodes/+/air' }, { path: 'air/t' }, { unit: 'C' }, { staleAfterS: 1 }])
      expect(probeSchema.safeParse({ ...probe, hookup: { ...probe.hookup, ...wrong } }).success).toBe(false);
  });
});

describe('the guide', () => {
  it('shows a message of a radio node that the kit by radio reads', () => {
    const notes = readFileSync('firmware-notes/README.md', 'utf8');
    const message = /```json\n(.*?)\n```/s.exec(notes)?.[1] ?? '';
    const kit = farmConfigSchema.parse(JSON.parse(readFileSync('hardware/kits/by-radio.json', 'utf8')));
    const read = kit.probes.map(({ hookup: one }) =>
      one?.part === 'delivered' ? readDelivery(one, message) : undefined,
    );
    expect(read).toMatchObject([
      { kind: 'reading', value: 21.42, battery: 4.12, signalDbm: -67 },
      { kind: 'reading', value: 63.1 },
      { kind: 'reading', value: 1.735 },
    ]);
  });
});
