import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, mkdtempSync, readdirSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { afterEach, describe, expect, it } from 'vitest';
import { typed } from '../helpers/typed.js';

const main = join(import.meta.dirname, '../../dist/src/cli/main.js');
const files = join(import.meta.dirname, '../look/files');

const drybell = (folder: string, ...words: string[]) => typed(words, folder, { TMPDIR: folder });

const newFolder = (): string => mkdtempSync(join(tmpdir(), 'drybell-look-test-'));
const started: ChildProcess[] = [];
afterEach(() => {
  for (const child of started.splice(0)) child.kill('SIGKILL');
});

describe('drybell look', () => {
  it('prints what it found as JSON, instants in UTC, and leaves nothing behind', async () => {
    const folder = newFolder();
    const {
      status,
      stdout: out,
      stderr: err,
    } = await drybell(
      folder,
      ...['look', join(files, '02-semicolon-comma.csv'), '--zone', 'Europe/Berlin', '--json'],
    );
    expect({ status, err }).toEqual({ status: 0, err: '' });
    const found = JSON.parse(out);
    expect(found.time).toEqual({
      from: '2026-04-16T05:00:00Z',
      to: '2026-04-19T04:30:00Z',
      zone: 'Europe/Berlin',
    });
    expect(found.series).toMatchObject([
      { column: 'Lufttemperatur [°C]', kind: 'air-temperature', unit: '°C', readings: 144 },
      { column: 'Luftfeuchte [%]', kind: 'relative-humidity', unit: '%', readings: 144 },
      { column: 'Bodenfeuchte [%]', kind: 'block-moisture', unit: '%', readings: 144 },
    ]);
    expect(found.dryDowns).toBe(2);
    expect(readdirSync(folder)).toEqual([]);
  });

  it('keeps a configuration that the other commands go on with', async () => {
    const folder = newFolder();
    const kept = await drybell(
      folder,
      ...['look', join(files, '01-iso-utc.csv'), '--no-page', '--keep', 'my-bench', '--side', '51'],
    );
    expect(kept.status).toBe(0);
    expect(kept.stdout).toContain('time     "time": year-month-day, clock of UTC (from each row)');
    const bench = join(folder, 'my-bench');
    expect(readdirSync(bench).sort()).toEqual(['data', 'drybell.jsonc', 'readings.csv', 'results']);
    expect(readFileSync(join(bench, 'drybell.jsonc'), 'utf8')).toContain('"blockSideMm": 51');
    const curves = await drybell(bench, 'curves', '--since', '2026-04-01', '--until', '2026-05-01');
    expect(curves.stdout).toContain('51 mm');
    const replayed = await drybell(
      bench,
      ...['replay', '--config', 'drybell.jsonc', '--readings', 'readings.csv', '--out', 'again', '--quiet'],
    );
    expect(replayed.status).toBe(0);
    const results = (name: string): string => readFileSync(join(bench, name, 'forecasts.jsonl'), 'utf8');
    expect(results('again')).toBe(results('results'));
    const again = await drybell(
      folder,
      'look',
      join(files, '01-iso-utc.csv'),
      '--no-page',
      '--keep',
      'my-bench',
    );
    expect(again).toMatchObject({
      status: 2,
      stderr: expect.stringContaining('there is a farm in this folder already'),
    });
  });

  it('serves the page of the file, its clock at the last reading, and takes its folder away at the end', async () => {
    const folder = newFolder();
    const child = spawn(process.execPath, [main, 'look', join(files, '01-iso-utc.csv')], {
      cwd: folder,
      env: { ...process.env, TMPDIR: folder },
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    started.push(child);
    let address: string | undefined;
    for await (const line of createInterface({ input: child.stdout })) {
      address = /http:\/\/\S+/.exec(line)?.[0];
      if (address !== undefined) break;
    }
    const present = await fetch(new URL('/api/present', address));
    const body = await present.text();
    expect(body).toContain('block-moisture');
    expect(body).toContain('2026-04-19');
    child.kill('SIGINT');
    await once(child, 'exit');
    expect(readdirSync(folder)).toEqual([]);
  });

  it('goes on from file to file, and counts a reading that stands in two once', async () => {
    const folder = newFolder();
    const { stdout: out } = await drybell(
      folder,
      ...['look', join(files, '01-iso-utc.csv'), join(files, '01-iso-utc.csv'), '--json'],
    );
    expect(JSON.parse(out).series).toMatchObject([{ readings: 144 }, { readings: 144 }, { readings: 144 }]);
  });

  it.each([
    ['nowhere.csv', [], 'nowhere.csv: there is no such file'],
    ['21-ambiguous-dates.csv', [], '--date-order dmy'],
    ['01-iso-utc.csv', ['--column', 'Soil=block-moisture'], 'no column of that name'],
    ['01-iso-utc.csv', ['--zone', 'Berlin'], 'expected an IANA time zone'],
  ])('look %s %j ends with 2 and says what to do', async (name, args, sentence) => {
    const folder = newFolder();
    const {
      status,
      stderr: err,
      stdout: out,
    } = await drybell(folder, 'look', join(files, name), ...args, '--json');
    expect({ status, out }).toEqual({ status: 2, out: '' });
    expect(err).toContain(sentence);
    expect(existsSync(join(folder, 'data'))).toBe(false);
  });
});

describe('drybell replay --store', () => {
  it('fills a store on which export works, and refuses one that is there', async () => {
    const folder = newFolder();
    const bench = join(folder, 'bench');
    await drybell(folder, 'look', join(files, '08-rows-of-sensors.csv'), '--no-page', '--keep', 'bench');
    const args = [
      'replay',
      '--config',
      'drybell.jsonc',
      '--readings',
      'readings.csv',
      '--out',
      'more',
      '--quiet',
    ];
    const refused = await drybell(bench, ...args, '--store', 'data');
    expect(refused).toMatchObject({ status: 3, stderr: expect.stringContaining('holds a store already') });
    const filled = await drybell(bench, ...args, '--store', 'second');
    expect(filled.status).toBe(0);
    expect(existsSync(join(bench, 'second', 'drybell.db'))).toBe(true);
    const exported = await drybell(
      bench,
      ...[
        'export',
        'readings',
        '--probe',
        'south-humidity',
        '--since',
        '2026-04-16',
        '--until',
        '2026-04-20',
      ],
    );
    expect(exported.stdout.trim().split('\n').length).toBe(145);
  });
});
