import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, expect, it } from 'vitest';
import type { RejectedRow } from '../../src/worlds/replay/csv-table.js';
import { readReadings } from '../../src/worlds/replay/read-readings.js';

const folder = mkdtempSync(join(tmpdir(), 'drybell-quotes-'));
afterEach(() => rmSync(folder, { recursive: true, force: true }));

it('a stray double quote costs its row alone, and blanks around quotes cost nothing', async () => {
  const file = join(folder, 'readings.csv');
  writeFileSync(
    file,
    [
      'time,probe,value',
      '2026-04-18T06:00:00Z,"temp-south",14.5',
      '2026-04-18T06:01:00Z,"temp-south"x,14.6',
      '2026-04-18T06:02:00Z, "temp-south" , "14.7" ',
      '2026-04-18T06:03:00Z,temp-south,"14.8"\\',
      '2026-04-18T06:04:00Z,temp-south,14.9',
    ].join('\n'),
  );
  const rejected: RejectedRow[] = [];
  const { count, value } = await readReadings(file, ['temp-south'], (row) => rejected.push(row));
  expect([...value].slice(0, count)).toEqual([14.5, 14.7, 14.9]);
  expect(rejected.map(({ row }) => row)).toEqual([3, 5]);
});
