import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { farmZone } from '../../src/worlds/look/cells/farm-zone.js';
import { rawValues } from '../../src/worlds/look/raw-values.js';
import { recognise } from '../../src/worlds/look/recognise.js';
import { typed } from '../helpers/typed.js';

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);
const found = (text: string) => recognise(bytes(text), { machineZone: 'UTC' });
const folder = mkdtempSync(join(tmpdir(), 'drybell-further-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('times', () => {
  it.each([
    ['20260514T0600Z', '2026-05-14T06:00:00.000Z'],
    ['20260514T060030Z', '2026-05-14T06:00:30.000Z'],
    ['20260514T080000+0200', '2026-05-14T06:00:00.000Z'],
  ])('ISO 8601 in its basic form: %s', (cell, instant) => {
    const { time } = found(`when,temp C\n${cell},20.5\n${cell},20.6\n`);
    expect(new Date(time.atMs[0] ?? 0).toISOString()).toBe(instant);
  });

  it('of a file that are no dates are refused with what was expected', () => {
    expect(() => found('elapsed,temp C\n0,20.1\n1800,20.2\n3600,20.4\n')).toThrow(
      /no column of times .*"elapsed".*: expected a date with its time of day/,
    );
  });
});

describe('weights', () => {
  it.each([
    ['Tray weight (lb)', 'lb', 10, 4536],
    ['Tray weight oz', 'oz', 10, 283.5],
  ])('%s become grams', (name, unit, value, grams) => {
    const [series] = found(`time,${name}\n2026-05-14 06:00,${value}\n2026-05-14 07:00,${value}\n`).series;
    expect(series).toMatchObject({ kind: 'tray-weight', unit, isSure: true });
    expect(series && rawValues(series)[0]).toBeCloseTo(grams, 0);
  });
});

describe('what is no table', () => {
  it.each([
    ['', 'the file is empty'],
    ['PK\u0003\u0004 sheet', 'save the sheet as CSV'],
  ])('%j is told as what it is', (text, sentence) => {
    expect(() => found(text)).toThrow(sentence);
  });
});

describe('the zone of a farm whose file writes its offset', () => {
  const [winter, summer] = [Date.UTC(2026, 0, 15), Date.UTC(2026, 6, 15)];
  it.each([
    ['Europe/Madrid', 'Europe/Berlin', summer, 'Europe/Madrid'],
    ['UTC', 'Europe/Berlin', summer, 'UTC'],
    ['UTC+2', 'Europe/Berlin', summer, 'Europe/Berlin'],
    ['UTC+2', 'Europe/Berlin', winter, 'Etc/GMT-2'],
    ['UTC-5', 'Europe/Berlin', winter, 'Etc/GMT+5'],
    ['UTC+5:30', 'Europe/Berlin', winter, 'UTC'],
  ])('%s on a machine of %s', (zone, machine, atMs, expected) => {
    expect(farmZone(zone, machine, atMs, atMs)).toBe(expected);
  });

  it('is one that a configuration takes: such a file is looked at to its end', async () => {
    const rows = Array.from(
      { length: 60 },
      (_, i) =>
        `2026-05-${String(14 + Math.floor(i / 24)).padStart(2, '0')}T${String(i % 24).padStart(2, '0')}:00:00+05:00,${20 + (i % 5)},${500 + i}`,
    );
    const file = join(folder, 'offset.csv');
    writeFileSync(file, `time,temp C,soil raw,thing\n${rows.map((row) => `${row},1`).join('\n')}\n`);
    const { status, stdout: out, stderr: err } = await typed(['look', file, '--no-page']);
    expect({ status, err }).toEqual({ status: 0, err: '' });
    expect(out).toContain('clock of UTC+5 (from each row)');
    expect(out).toContain('"soil raw": in counts, so waterings and dry-downs are not told from it');
    expect(out).toContain('--column NAME=KIND says what one is');
  });
});
