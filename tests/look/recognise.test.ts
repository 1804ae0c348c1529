import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import type { ProbeKind } from '../../shared/config/kit/probes.js';
import { rawValues } from '../../src/worlds/look/raw-values.js';
import { type Recognised, type RecogniseOptions, recognise } from '../../src/worlds/look/recognise.js';

const folder = join(import.meta.dirname, 'files');

function look(name: string, options: Partial<RecogniseOptions> = {}): Recognised {
  return recognise(readFileSync(join(folder, name)), { machineZone: 'UTC', ...options });
}

/** One bench's three April days: every file but 11, 15 and 21 is the same days written another way. */
const truth = look('01-iso-utc.csv');
const from = '2026-04-16T05:00:00Z';
const to = '2026-04-19T04:30:00Z';
const T: ProbeKind = 'air-temperature';
const H: ProbeKind = 'relative-humidity';
const M: ProbeKind = 'block-moisture';
const L: ProbeKind = 'light';
const G: ProbeKind = 'tray-weight';

interface Expected {
  readonly file: string;
  readonly zone?: string;
  readonly series: readonly (readonly [string, ProbeKind, string])[];
  /** Zone that comes out, where it is not the one that was asked for. */
  readonly saidZone?: string;
  readonly left?: readonly string[];
  readonly badLines?: number;
  readonly to?: string;
  readonly from?: string;
  readonly writing: Partial<Pick<Recognised, 'encoding' | 'delimiter' | 'isLong' | 'hasHeader'>>;
}

const files: readonly Expected[] = [
  {
    file: '01-iso-utc.csv',
    saidZone: 'UTC',
    series: [
      ['air temperature (°C)', T, '°C'],
      ['relative humidity (%)', H, '%'],
      ['block moisture (m3/m3)', M, 'm3/m3'],
    ],
    writing: { encoding: 'UTF-8', delimiter: ',' },
  },
  {
    file: '02-semicolon-comma.csv',
    zone: 'Europe/Berlin',
    series: [
      ['Lufttemperatur [°C]', T, '°C'],
      ['Luftfeuchte [%]', H, '%'],
      ['Bodenfeuchte [%]', M, '%'],
    ],
    writing: { encoding: 'Windows-1252', delimiter: ';' },
  },
  {
    file: '03-half-days-fahrenheit.csv',
    zone: 'America/New_York',
    series: [
      ['Temp (°F)', T, '°F'],
      ['Humidity, %RH', H, '%'],
      ['Light (lux)', L, 'lx'],
    ],
    writing: { encoding: 'UTF-8 with its mark' },
  },
  {
    file: '04-utf16-tab.txt',
    saidZone: 'UTC+1',
    series: [
      ['Temperature', T, '°C'],
      ['Humidity', H, '%'],
      ['Soil moisture', M, 'm3/m3'],
    ],
    writing: { encoding: 'UTF-16LE with its mark', delimiter: '\t' },
  },
  {
    file: '05-utf16-no-mark.csv',
    saidZone: 'UTC',
    series: [
      ['temp_c', T, '°C'],
      ['rh_pct', H, '%'],
      ['moisture_pct', M, '%'],
    ],
    writing: { encoding: 'UTF-16BE' },
  },
  {
    file: '06-four-header-rows.dat',
    series: [
      ['AirT', T, '°C'],
      ['RelHum', H, '%'],
      ['VWC_1', M, 'm3/m3'],
    ],
    left: ['RECORD', 'Batt_V'],
    writing: {},
  },
  {
    file: '07-no-header-epoch.csv',
    saidZone: 'UTC',
    series: [
      ['column 2', T, '°C'],
      ['column 3', H, '%'],
      ['column 4', M, 'm3/m3'],
    ],
    writing: { hasHeader: false },
  },
  {
    file: '08-rows-of-sensors.csv',
    saidZone: 'UTC',
    series: [
      ['south air temperature', T, '°C'],
      ['south humidity', H, '%'],
      ['celery block moisture', M, '%'],
    ],
    writing: { isLong: true, delimiter: ';' },
  },
  {
    file: '09-spreadsheet-days.csv',
    zone: 'Europe/Berlin',
    series: [
      ['Temp C', T, '°C'],
      ['RH %', H, '%'],
      ['Tray weight g', G, 'g'],
    ],
    writing: {},
  },
  {
    file: '10-newest-first.csv',
    zone: 'Europe/Madrid',
    series: [
      ['Temperatura del aire (°C)', T, '°C'],
      ['Humedad relativa (%)', H, '%'],
      ['Humedad del sustrato (%)', M, '%'],
    ],
    writing: {},
  },
  {
    file: '11-autumn-clock-change.csv',
    zone: 'Europe/Berlin',
    from: '2026-10-24T12:00:00Z',
    to: '2026-10-26T11:30:00Z',
    series: [
      ['Temperatur °C', T, '°C'],
      ['Feuchte %', H, '%'],
    ],
    writing: {},
  },
  {
    file: '12-many-columns.csv',
    saidZone: 'UTC',
    series: [
      ['T1 air [°C]', T, '°C'],
      ['T2 air [°C]', T, '°C'],
      ['RH1 [%]', H, '%'],
      ['Moist celery [mV]', M, 'mV'],
      ['Moist leek [mV]', M, 'mV'],
      ['PAR [µmol m-2 s-1]', L, 'µmol/m2/s'],
    ],
    writing: {},
  },
  {
    file: '13-month-names.csv',
    saidZone: 'UTC+2',
    series: [
      ['temperature', T, '°C'],
      ['humidity', H, '%'],
      ['moisture', M, 'm3/m3'],
    ],
    writing: {},
  },
  {
    file: '14-thousands.csv',
    zone: 'Europe/Berlin',
    series: [
      ['Beleuchtungsstärke (lx)', L, 'lx'],
      ['Lufttemperatur (°C)', T, '°C'],
      ['Gewicht (g)', G, 'g'],
    ],
    writing: {},
  },
  {
    file: '15-declared-separator.csv',
    zone: 'Europe/London',
    to: '2026-04-16T11:30:00Z',
    series: [
      ['Temp', T, '°C'],
      ['Humidity', H, '%'],
      ['Moisture', M, '%'],
    ],
    writing: { delimiter: '|' },
  },
  {
    file: '16-blanks.txt',
    saidZone: 'UTC',
    series: [
      ['air_t_c', T, '°C'],
      ['rh_pct', H, '%'],
      ['soil_v', M, 'V'],
    ],
    writing: { delimiter: 'blanks' },
  },
  {
    file: '17-plots-in-rows.csv',
    saidZone: 'UTC+2',
    series: [
      ['plot-1 moisture_pct', M, '%'],
      ['plot-1 temperature_c', T, '°C'],
      ['plot-2 moisture_pct', M, '%'],
      ['plot-2 temperature_c', T, '°C'],
    ],
    writing: { isLong: true },
  },
  {
    file: '18-compact-sentinels.csv',
    series: [
      ['Tair_degC', T, '°C'],
      ['RH_percent', H, '%'],
      ['theta_m3m3', M, 'm3/m3'],
    ],
    badLines: 1,
    writing: {},
  },
  {
    file: '19-quoted-comma.csv',
    zone: 'Europe/Berlin',
    series: [
      ['Temperatur', T, '°C'],
      ['Feuchte, rel.', H, '%'],
      ['Bodenfeuchte, Vol.-%', M, '%'],
    ],
    writing: { delimiter: ',' },
  },
  {
    file: '20-channels.csv',
    saidZone: 'UTC',
    series: [
      ['1 temperature', T, 'K'],
      ['1 humidity', H, '%'],
      ['2 solar radiation', L, 'W/m2'],
      ['3 substrate moisture', M, 'm3/m3'],
    ],
    writing: { isLong: true },
  },
];

/** How far a value may lie from the truth because its file rounds it or writes another probe of the kind. */
const ROUNDING: Readonly<Partial<Record<ProbeKind, number>>> = { [T]: 0.07, [H]: 0.56, [M]: 0.0011 };

describe('recognise() on files of many loggers', () => {
  it.each(files)('$file: columns, kinds, units, zone and span', (expected) => {
    const found = look(expected.file, { zone: expected.zone });
    expect(found.series.map(({ column, kind, unit }) => [column, kind, unit])).toEqual(expected.series);
    expect(found.time.zone).toBe(expected.zone ?? expected.saidZone ?? 'UTC');
    expect(found.left.map(({ column }) => column)).toEqual(expected.left ?? []);
    expect(found.badLines).toHaveLength(expected.badLines ?? 0);
    expect(found).toMatchObject(expected.writing);
    const at = found.series.flatMap(({ atMs }) => atMs);
    expect(toInstant(Math.min(...at))).toBe(expected.from ?? from);
    expect(toInstant(Math.max(...at))).toBe(expected.to ?? to);
  });

  it.each(files.filter(({ file }) => !file.startsWith('11')))(
    '$file: the first probe of each kind reads what the plain file reads',
    ({ file, zone }) => {
      const found = look(file, { zone });
      for (const kind of [T, H, M] as const) {
        const one = found.series.find((series) => series.kind === kind);
        const plain = truth.series.find((series) => series.kind === kind);
        // Volts have no calibration in the file: nothing to compare with.
        if (one === undefined || plain === undefined || ['V', 'mV'].includes(one.unit)) continue;
        const expected = new Map(plain.atMs.map((atMs, index) => [atMs, plain.values[index] ?? 0]));
        rawValues(one).forEach((value, index) => {
          expect(Math.abs(value - (expected.get(one.atMs[index] ?? 0) ?? Number.NaN))).toBeLessThan(
            ROUNDING[kind] ?? 0,
          );
        });
      }
    },
  );

  it('counts cells that say "no value" and keeps them out of the values', () => {
    const missing = (name: string, zone?: string) =>
      look(name, { zone }).series.map((one) => one.missingCount);
    expect(missing('06-four-header-rows.dat')).toEqual([9, 0, 0]);
    expect(missing('10-newest-first.csv', 'Europe/Madrid')).toEqual([8, 0, 0]);
    expect(missing('18-compact-sentinels.csv')).toEqual([0, 0, 7]);
  });

  it('tells the two hours apart that an autumn night repeats, half an hour between all rows', () => {
    const [temperature] = look('11-autumn-clock-change.csv', { zone: 'Europe/Berlin' }).series;
    const steps = temperature?.atMs.slice(1).map((at, index) => at - (temperature.atMs[index] ?? 0));
    expect(new Set(steps)).toEqual(new Set([30 * 60_000]));
  });

  it('says which rows stand in an hour that the clock never showed, and leaves them out', () => {
    const text = 'time;temp C\n2026-03-29 01:30;9\n2026-03-29 02:30;9,1\n2026-03-29 03:30;9,2\n';
    const { time, series } = recognise(Buffer.from(text), { machineZone: 'UTC', zone: 'Europe/Berlin' });
    expect(time.neverHours).toBe(1);
    expect(series[0]?.atMs.map(toInstant)).toEqual(['2026-03-29T00:30:00Z', '2026-03-29T01:30:00Z']);
  });

  it('refuses dates that fit day first and month first, and shows both readings', () => {
    expect(() => look('21-ambiguous-dates.csv')).toThrow(
      expect.objectContaining({
        code: 'date-order-open',
        message: expect.stringMatching(/3 April 2026.*--date-order dmy.*4 March 2026.*--date-order mdy/),
      }),
    );
    const told = look('21-ambiguous-dates.csv', { order: 'mdy' });
    expect(toInstant(told.series[0]?.atMs[0] ?? 0)).toBe('2026-03-04T08:00:00Z');
  });

  it('takes the order of day and month from the steps where days go on', () => {
    const rows = [3, 4, 5].flatMap((day) =>
      ['06:00', '14:00', '22:00'].map((clock) => `0${day}/04/2026 ${clock},${10 + day}`),
    );
    const { series, time } = recognise(Buffer.from(`date,temp C\n${rows.join('\n')}\n`), {
      machineZone: 'UTC',
    });
    expect(time.sureness).toBe('likely');
    expect(toInstant(series[0]?.atMs[0] ?? 0)).toBe('2026-04-03T06:00:00Z');
  });

  it('believes what people say of a column before its name', () => {
    const told = new Map([['Ch 3', { kind: 'block-moisture', unit: undefined } as const]]);
    const text = 'time,Ch 3\n2026-04-16 05:00,41.5\n2026-04-16 06:00,41.1\n';
    expect(() => recognise(Buffer.from(text), { machineZone: 'UTC' })).toThrow(
      expect.objectContaining({
        code: 'no-series',
        message: expect.stringContaining('--column "Ch 3=block-moisture"'),
      }),
    );
    const { series } = recognise(Buffer.from(text), { machineZone: 'UTC', told });
    expect(series).toMatchObject([
      { column: 'Ch 3', kind: 'block-moisture', unit: '%', values: [41.5, 41.1] },
    ]);
  });

  it.each([
    ['', 'no-table'],
    ['just some words\nand some more\n', 'no-table'],
    ['name,value\ncelery,12\nleek,13\n', 'no-table'],
  ])('refuses %j with the code %s', (text, code) => {
    expect(() => recognise(Buffer.from(text), { machineZone: 'UTC' })).toThrow(
      expect.objectContaining({ code }),
    );
  });
});
