import { describe, expect, it } from 'vitest';
import { dividerOhm, shareOfCounts } from '../../../src/board/parts/adc.js';
import { bh1750Commands, bh1750MeasureMs, decodeBh1750 } from '../../../src/board/parts/bh1750.js';
import { crc8OneWire, crc8Sensirion } from '../../../src/board/parts/crc8.js';
import { decodeDs18b20, decodeW1File } from '../../../src/board/parts/ds18b20.js';
import { decodeMcp9808 } from '../../../src/board/parts/mcp9808.js';
import { decodeNau7802 } from '../../../src/board/parts/nau7802.js';
import { decodeSht31 } from '../../../src/board/parts/sht31.js';
import {
  steinhartHartOfBeta,
  steinhartHartThrough,
  thermistorC,
} from '../../../src/board/parts/thermistor.js';

const ascii = (text: string) => [...Buffer.from(text)];
const hex = (text: string) => text.split(' ').map((byte) => Number.parseInt(byte, 16));
const withCrc = (high: number, low: number) => [high, low, crc8Sensirion([high, low])];

describe('checksums', () => {
  it('crc8Sensirion() of BE EF is 92 (SHT3x-DIS data sheet, section 4.12)', () => {
    expect(crc8Sensirion([0xbe, 0xef])).toBe(0x92);
    // Catalogue of parametrised CRC algorithms, CRC-8/NRSC-5: check value over "123456789".
    expect(crc8Sensirion(ascii('123456789'))).toBe(0xf7);
  });

  it('crc8OneWire() of the ROM code in Maxim application note 27 is A2', () => {
    expect(crc8OneWire(hex('02 1c b8 01 00 00 00'))).toBe(0xa2);
    // Catalogue of parametrised CRC algorithms, CRC-8/MAXIM-DOW: check value.
    expect(crc8OneWire(ascii('123456789'))).toBe(0xa1);
  });
});

describe('SHT31', () => {
  // Data sheet formula T = -45 + 175 S/65535, RH = 100 S/65535: ends, and 0x6666 in between.
  it.each([
    [0x00, 0x00, -45, 0],
    [0x66, 0x66, 25, 40],
    [0xff, 0xff, 130, 100],
  ])('decodeSht31() of word %i %i is %f °C', (high, low, temperatureC, relativeHumidityPct) => {
    const answer = decodeSht31([...withCrc(high, low), ...withCrc(high, low)]);
    expect(answer.kind).toBe('value');
    if (answer.kind !== 'value') return;
    expect(answer.value.temperatureC).toBeCloseTo(temperatureC, 9);
    expect(answer.value.relativeHumidityPct).toBeCloseTo(relativeHumidityPct, 9);
  });

  it('decodeSht31() fails on any single flipped bit, and on a short reply', () => {
    const good = [...withCrc(0x66, 0x66), ...withCrc(0x80, 0x00)];
    for (let bit = 0; bit < 48; bit++) {
      const bad = good.map((byte, index) => (index === bit >> 3 ? byte ^ (1 << (bit & 7)) : byte));
      expect(decodeSht31(bad).kind).toBe('fault');
    }
    expect(decodeSht31(good.slice(0, 5)).kind).toBe('fault');
  });
});

describe('MCP9808', () => {
  // Microchip DS25095, register 5-4 and example 5-1: flags in the top three bits, two's complement below.
  it.each([
    [0x01, 0x91, 25.0625],
    [0xe1, 0x91, 25.0625],
    [0x00, 0x80, 8],
    [0x1e, 0x70, -25],
    [0x1f, 0xff, -0.0625],
    [0x1f, 0xd8, -2.5],
  ])('decodeMcp9808(%i, %i) is %f °C', (high, low, temperatureC) => {
    expect(decodeMcp9808([high, low])).toEqual({ kind: 'value', value: temperatureC });
  });
});

describe('DS18B20', () => {
  // Maxim 19-7487, table 1.
  it.each([
    ['d0 07', 125],
    ['91 01', 25.0625],
    ['a2 00', 10.125],
    ['08 00', 0.5],
    ['00 00', 0],
    ['f8 ff', -0.5],
    ['5e ff', -10.125],
    ['6f fe', -25.0625],
    ['90 fc', -55],
  ])('decodeDs18b20() of %s is %f °C', (word, temperatureC) => {
    const eight = hex(`${word} 4b 46 7f ff 0f 10`);
    expect(decodeDs18b20([...eight, crc8OneWire(eight)])).toEqual({ kind: 'value', value: temperatureC });
  });

  it('decodeDs18b20() takes neither the power-on value of 85 °C nor a shorted line for a temperature', () => {
    // The power-on scratchpad as many published bus dumps show it, checksum 1C included.
    expect(decodeDs18b20(hex('50 05 4b 46 7f ff 0c 10 1c'))).toMatchObject({
      kind: 'fault',
      reason: expect.stringContaining('85 °C'),
    });
    expect(decodeDs18b20(Array<number>(9).fill(0))).toMatchObject({
      kind: 'fault',
      reason: expect.stringContaining('shorted'),
    });
    expect(decodeDs18b20(Array<number>(9).fill(0xff)).kind).toBe('fault');
  });

  it('decodeW1File() reads the text of the kernel (Documentation/w1/slaves/w1_therm)', () => {
    const text = '91 01 4b 46 7f ff 0f 10 25 : crc=25 YES\n91 01 4b 46 7f ff 0f 10 25 t=25062\n';
    expect(decodeW1File(text)).toEqual({ kind: 'value', value: 25.0625 });
    expect(decodeW1File(text.replace('91 01', '92 01')).kind).toBe('fault');
    expect(decodeW1File('').kind).toBe('fault');
  });
});

describe('BH1750', () => {
  it('decodeBh1750() of 83 90 is 28,067 lx (ROHM BH1750FVI data sheet, worked example, value from memory)', () => {
    const answer = decodeBh1750([0x83, 0x90], 69);
    expect(answer).toMatchObject({ kind: 'value' });
    if (answer.kind === 'value') expect(Math.round(answer.value)).toBe(28_067);
  });

  it('decodeBh1750() reaches 121,556 lx at the shortest measurement time (published range of the part)', () => {
    const answer = decodeBh1750([0xff, 0xfe], 31);
    if (answer.kind !== 'value') throw new Error(answer.reason);
    expect(Math.abs(answer.value - 121_556)).toBeLessThan(3);
    expect(decodeBh1750([0xff, 0xff], 31).kind).toBe('fault');
  });

  it('bh1750Commands() split the measurement time as the instruction set has it', () => {
    expect(bh1750Commands(69)).toEqual([[0x42], [0x65], [0x20]]);
    expect(bh1750Commands(31)).toEqual([[0x40], [0x7f], [0x20]]);
    expect(bh1750MeasureMs(69)).toBe(180);
  });
});

describe('NAU7802', () => {
  it.each([
    [[0x00, 0x00, 0x01], 1],
    [[0xff, 0xff, 0xff], -1],
    [[0x80, 0x00, 0x01], -8_388_607],
    [[0x7f, 0xff, 0xfe], 8_388_606],
  ])("decodeNau7802(%j) is %i counts (24-bit two's complement)", (bytes, counts) => {
    expect(decodeNau7802(bytes)).toEqual({ kind: 'value', value: counts });
  });

  it('decodeNau7802() gives no weight at either end of its range', () => {
    expect(decodeNau7802([0x7f, 0xff, 0xff]).kind).toBe('fault');
    expect(decodeNau7802([0x80, 0x00, 0x00]).kind).toBe('fault');
  });
});

describe('thermistors', () => {
  // Murata NCPxxXH103, 10 kohm: table in the Linux kernel, drivers/hwmon/ntc_thermistor.c.
  const murata: readonly (readonly [number, number])[] = [
    [0, 28_674],
    [5, 22_878],
    [10, 18_399],
    [15, 14_910],
    [20, 12_169],
    [25, 10_000],
    [30, 8271],
    [35, 6883],
    [40, 5762],
    [50, 4105],
  ];

  it('steinhartHartThrough() 0, 25 and 50 °C gives all other rows of the table within 0.002 °C', () => {
    const curve = steinhartHartThrough([
      { temperatureC: 0, resistanceOhm: 28_674 },
      { temperatureC: 25, resistanceOhm: 10_000 },
      { temperatureC: 50, resistanceOhm: 4105 },
    ]);
    for (const [temperatureC, ohm] of murata)
      expect(Math.abs(thermistorC(ohm, curve) - temperatureC)).toBeLessThan(0.002);
  });

  it("steinhartHartOfBeta() is 0.6 °C high at 0 °C for a 10 k B3950 part (maker's table)", () => {
    const curve = steinhartHartOfBeta(10_000, 3950);
    expect(thermistorC(10_000, curve)).toBeCloseTo(25, 9);
    expect(thermistorC(32_580.7, curve)).toBeCloseTo(0.59, 2);
    expect(thermistorC(12_526.6, curve)).toBeCloseTo(20.02, 2);
  });

  it('dividerOhm() is the same resistance either way round, and nothing at open or short', () => {
    expect(dividerOhm(0.25, 10_000, 'ground')).toBeCloseTo(3333.33, 2);
    expect(dividerOhm(0.75, 10_000, 'supply')).toBeCloseTo(3333.33, 2);
    expect(dividerOhm(0, 10_000, 'ground')).toBeUndefined();
    expect(dividerOhm(1, 10_000, 'supply')).toBeUndefined();
    // Ten bits over 1023 as some worked examples have them: 512 counts are 10,019.6 ohm.
    expect(dividerOhm(512 / 1023, 10_000, 'ground')).toBeCloseTo(10_019.6, 1);
  });

  it('shareOfCounts() is the middle of what gives a count, ⌊V · 1024 / Vref⌋ (ATmega328P data sheet)', () => {
    for (const share of [0.1234, 0.5, 0.987]) {
      const counts = Math.floor(share * 1024);
      expect(Math.abs(shareOfCounts(counts, 1023) - share)).toBeLessThanOrEqual(0.5 / 1024);
    }
    expect(shareOfCounts(512, 1023)).toBeCloseTo(0.50049, 5);
  });
});
