import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { resolveSenml } from './resolve-senml.js';

// Packs and results: RFC 8428 (July 2018), the section named beside each.
const NOW_S = 1_776_488_400;
const device = 'urn:dev:ow:10e2073a01080063';

function resolved(pack: unknown): unknown {
  const result = resolveSenml(pack, NOW_S);
  return result.ok ? result.records : result;
}

const multiple = [
  { bn: device, bt: 1.320067464e9, bu: '%RH', v: 20 },
  { u: 'lon', v: 24.30621 },
  { u: 'lat', v: 60.07965 },
  { t: 60, v: 20.3 },
  { u: 'lon', t: 60, v: 24.30622 },
  { u: 'lat', t: 60, v: 60.07965 },
  { t: 120, v: 20.7 },
  { u: 'lon', t: 120, v: 24.30623 },
  { u: 'lat', t: 120, v: 60.07966 },
  { u: '%EL', t: 150, v: 98 },
  { t: 180, v: 21.2 },
  { u: 'lon', t: 180, v: 24.30628 },
  { u: 'lat', t: 180, v: 60.07967 },
];

const multipleResolved = [
  { n: device, u: '%RH', t: 1.320067464e9, v: 20 },
  { n: device, u: 'lon', t: 1.320067464e9, v: 24.30621 },
  { n: device, u: 'lat', t: 1.320067464e9, v: 60.07965 },
  { n: device, u: '%RH', t: 1.320067524e9, v: 20.3 },
  { n: device, u: 'lon', t: 1.320067524e9, v: 24.30622 },
  { n: device, u: 'lat', t: 1.320067524e9, v: 60.07965 },
  { n: device, u: '%RH', t: 1.320067584e9, v: 20.7 },
  { n: device, u: 'lon', t: 1.320067584e9, v: 24.30623 },
  { n: device, u: 'lat', t: 1.320067584e9, v: 60.07966 },
  { n: device, u: '%EL', t: 1.320067614e9, v: 98 },
  { n: device, u: '%RH', t: 1.320067644e9, v: 21.2 },
  { n: device, u: 'lon', t: 1.320067644e9, v: 24.30628 },
  { n: device, u: 'lat', t: 1.320067644e9, v: 60.07967 },
];

describe("resolveSenml() on RFC 8428's own examples", () => {
  it('§5.1.1 a single data point is from now', () => {
    expect(resolved([{ n: device, u: 'Cel', v: 23.1 }])).toEqual([
      { n: device, u: 'Cel', v: 23.1, t: NOW_S },
    ]);
  });

  it('§5.1.2 voltage and current now', () => {
    const bn = 'urn:dev:ow:10e2073a01080063:';
    expect(
      resolved([
        { bn, n: 'voltage', u: 'V', v: 120.1 },
        { n: 'current', u: 'A', v: 1.2 },
      ]),
    ).toEqual([
      { n: `${bn}voltage`, u: 'V', v: 120.1, t: NOW_S },
      { n: `${bn}current`, u: 'A', v: 1.2, t: NOW_S },
    ]);
  });

  it('§5.1.2 five seconds of current before 2010-06-08T18:01:16.001Z, version 5 kept in every record', () => {
    const bn = 'urn:dev:ow:10e2073a0108006:';
    const pack = [
      { bn, bt: 1.276020076001e9, bu: 'A', bver: 5, n: 'voltage', u: 'V', v: 120.1 },
      ...[-5, -4, -3, -2, -1].map((t, i) => ({ n: 'current', t, v: [1.2, 1.3, 1.4, 1.5, 1.6][i] })),
      { n: 'current', v: 1.7 },
    ];
    const result = resolveSenml(pack, NOW_S);
    if (!result.ok) throw new Error(result.problem);
    expect(
      result.records.map((record) => [record.n.slice(bn.length), record.u, record.v, record.bver]),
    ).toEqual([
      ['current', 'A', 1.2, 5],
      ['current', 'A', 1.3, 5],
      ['current', 'A', 1.4, 5],
      ['current', 'A', 1.5, 5],
      ['current', 'A', 1.6, 5],
      ['voltage', 'V', 120.1, 5],
      ['current', 'A', 1.7, 5],
    ]);
    expect(result.records[0]?.t).toBeCloseTo(1_276_020_071.001, 3);
    expect(new Date((result.records[6]?.t ?? 0) * 1000).toISOString()).toBe('2010-06-08T18:01:16.001Z');
  });

  it('§5.1.3 resolves to §5.1.4, all thirteen records', () => {
    expect(resolved(multiple)).toEqual(multipleResolved);
  });

  it('§5.1.5 string, boolean and data values', () => {
    const bn = `${device}:`;
    expect(
      resolved([
        { bn, n: 'temp', u: 'Cel', v: 23.1 },
        { n: 'label', vs: 'Machine Room' },
        { n: 'open', vb: false },
        { n: 'nfv-reader', vd: 'aGkgCg' },
      ]),
    ).toEqual([
      { n: `${bn}temp`, u: 'Cel', v: 23.1, t: NOW_S },
      { n: `${bn}label`, vs: 'Machine Room', t: NOW_S },
      { n: `${bn}open`, vb: false, t: NOW_S },
      { n: `${bn}nfv-reader`, vd: 'aGkgCg', t: NOW_S },
    ]);
  });

  it('§5.1.6 the last record has the base name of the third and the base time of the first', () => {
    expect(
      resolved([
        { bn: '2001:db8::2/', bt: 1.320078429e9, n: 'temperature', u: 'Cel', v: 25.2 },
        { n: 'humidity', u: '%RH', v: 30 },
        { bn: '2001:db8::1/', n: 'temperature', u: 'Cel', v: 12.3 },
        { n: 'humidity', u: '%RH', v: 67 },
      ]),
    ).toEqual([
      { n: '2001:db8::2/temperature', u: 'Cel', v: 25.2, t: 1.320078429e9 },
      { n: '2001:db8::2/humidity', u: '%RH', v: 30, t: 1.320078429e9 },
      { n: '2001:db8::1/temperature', u: 'Cel', v: 12.3, t: 1.320078429e9 },
      { n: '2001:db8::1/humidity', u: '%RH', v: 67, t: 1.320078429e9 },
    ]);
  });

  it('§5.1.7 a first record that only sets the base name is no record; lights switch in order of time', () => {
    expect(resolved([{ bn: `${device}:` }, { n: 'heat', u: '/', v: 1 }])).toEqual([
      { n: `${device}:heat`, u: '/', v: 1, t: NOW_S },
    ]);
    const lights = resolved([
      { bt: 1.320078429e9, bu: '/', n: '2001:db8::3', v: 0.5 },
      { n: '2001:db8::3', t: 0.1, v: 0 },
      { n: '2001:db8::4', v: 0.5 },
    ]);
    expect(lights).toMatchObject([{ v: 0.5 }, { v: 0.5 }, { n: '2001:db8::3', u: '/', v: 0 }]);
  });
});

describe("resolveSenml() on RFC 8428's rules", () => {
  it('§4.5.4 adds base value and base sum; a sum needs no value', () => {
    expect(resolved([{ n: 'a', bv: 20, v: 1.5 }, { n: 'b' }])).toMatchObject([
      { n: 'a', v: 21.5 },
      { n: 'b', v: 20 },
    ]);
    expect(
      resolved([
        { n: 'a', bs: 100, s: 5 },
        { n: 'b', vb: true },
      ]),
    ).toEqual([
      { n: 'a', s: 105, t: NOW_S },
      { n: 'b', vb: true, s: 100, t: NOW_S },
    ]);
  });

  it('§4.5.3 a time below 2^28 is relative to now, from 2^28 on it is absolute (1978-07-04T21:24:16Z)', () => {
    expect(resolved([{ n: 'a', v: 1, t: 2 ** 28 - 1 }])).toMatchObject([{ t: NOW_S + 2 ** 28 - 1 }]);
    expect(resolved([{ n: 'a', v: 1, t: 2 ** 28 }])).toMatchObject([
      { t: Date.UTC(1978, 6, 4, 21, 24, 16) / 1000 },
    ]);
  });

  it.each([
    ['§4.4 an unknown label that ends in "_"', [{ n: 'a', v: 1, odd_: 2 }], 0],
    ['§4.4 a newer version', [{ n: 'a', v: 1, bver: 11 }], 0],
    [
      '§4.4 two versions in one pack',
      [
        { n: 'a', v: 1 },
        { n: 'a', v: 1, bver: 5 },
      ],
      1,
    ],
    ['§4.2 two values', [{ n: 'a', v: 1, vs: 'x' }], 0],
    [
      '§4.2 no value',
      [
        { n: 'a', v: 1 },
        { n: 'a', u: 'Cel' },
      ],
      1,
    ],
    ['§4.5.1 a name with a blank', [{ n: 'wet bench', v: 1 }], 0],
    ['§4.5.1 a name that begins with "/"', [{ bn: '/a/', n: 'b', v: 1 }], 0],
    ['§4.5.1 no name at all', [{ v: 1 }], 0],
    ['§4.3 a number given as text', [{ n: 'a', v: '1' }], 0],
    ['§4.3 padded base64', [{ n: 'a', vd: 'aGkgCg==' }], 0],
    ['§5 a record that is no object', [{ n: 'a', v: 1 }, 7], 1],
    ['§5 a pack that is no array', { n: 'a', v: 1 }, 0],
  ])('refuses %s', (_rule, pack, recordIndex) => {
    expect(resolveSenml(pack, NOW_S)).toMatchObject({ ok: false, recordIndex });
  });

  it('§4.4 ignores a label it does not know', () => {
    expect(resolved([{ n: 'a', v: 1, odd: 2, constructor: 3 }])).toEqual([{ n: 'a', v: 1, t: NOW_S }]);
  });

  it('§4.6 resolving a resolved pack changes nothing', () => {
    const value = fc.record({
      n: fc.constantFrom('a', 'b/c', '2001:db8::1'),
      v: fc.integer(),
      t: fc.integer(),
    });
    fc.assert(
      fc.property(fc.array(value), (pack) => {
        const once = resolveSenml([{ bn: 'x:', bt: 1.7e9, bu: 'Cel' }, ...pack], NOW_S);
        if (!once.ok) throw new Error(once.problem);
        expect(resolveSenml(once.records, NOW_S)).toEqual(once);
      }),
    );
  });
});
