import { existsSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type ConvertOptions, convertCsv } from '../../src/cli/records/convert/convert-csv.js';
import { loggerTime } from '../../src/cli/records/convert/logger-time.js';
import { parseValueRule, type ValueRule } from '../../src/cli/records/convert/value-rule.js';

function rules(...texts: string[]): ValueRule[] {
  return texts.map((text) => {
    const rule = parseValueRule(text);
    if (typeof rule === 'string') throw new Error(rule);
    return rule;
  });
}

async function convert(csv: string | Buffer, options: Partial<ConvertOptions>) {
  const folder = mkdtempSync(join(tmpdir(), 'drybell-convert-'));
  const inFile = join(folder, 'logger.csv');
  const outFile = join(folder, 'readings.csv');
  writeFileSync(inFile, csv);
  const problems: string[] = [];
  const summary = convertCsv({
    inFile,
    outFile,
    timeColumn: 'time',
    seriesColumn: undefined,
    rules: [],
    time: { zone: undefined, epoch: undefined, format: undefined },
    delimiter: ',',
    decimalComma: false,
    onProblem: (row, reason) => problems.push(`${row}: ${reason}`),
    ...options,
  });
  const written = async (): Promise<string> => {
    await summary;
    return readFileSync(outFile, 'utf8');
  };
  return { summary, outFile, problems, written };
}

describe('drybell convert', () => {
  it('turns a column for each probe into rows, with units brought to raw ones', async () => {
    const csv = 'time,Temp (F),Soil mV\n2026-04-18T07:00:00Z,68,2210\n2026-04-18T07:05:00+02:00,70.5,\n';
    const { written, summary } = await convert(csv, {
      rules: rules('Temp (F)=temp-south*0.5555556-17.77778', 'Soil mV=moist-t1*0.001'),
    });
    expect(await written()).toBe(
      [
        'time,probe,value',
        '2026-04-18T07:00:00Z,temp-south,20',
        '2026-04-18T07:00:00Z,moist-t1,2.21',
        '2026-04-18T05:05:00Z,temp-south,21.38889',
        '',
      ].join('\n'),
    );
    expect(await summary).toMatchObject({ rows: 2, readings: 3, emptyCells: 1, problems: 0 });
  });

  it('takes a row for each series, names probes after it, and one series alone where told', async () => {
    const csv = 'time,plot,moisture,air\n2026-04-18T07:00Z,p1,42,20\n2026-04-18T07:00Z,p2,55,20\n';
    const { written } = await convert(csv, {
      seriesColumn: 'plot',
      rules: rules('moisture=moist-{series}*0.01', 'air@p1=temp-site'),
    });
    expect((await written()).trim().split('\n').slice(1)).toEqual([
      '2026-04-18T07:00:00Z,moist-p1,0.42',
      '2026-04-18T07:00:00Z,temp-site,20',
      '2026-04-18T07:00:00Z,moist-p2,0.55',
    ]);
  });

  it('reports each bad row with its number and what to do, and goes on', async () => {
    const csv = Buffer.concat([
      Buffer.from(
        'time,v\n2026-04-18T07:00:00Z,wet\nyesterday,1\n2026-04-18T08:00:00,1\n2026-04-18T09:00:00Z\n',
      ),
      Buffer.from('2026-04-18T10:00:00Z,'),
      Buffer.from([0xff, 0xfe, 0x0a]),
      Buffer.from('2026-04-18T11:00:00Z,1.5\n'),
    ]);
    const { summary, problems } = await convert(csv, { rules: rules('v=moist-t1') });
    expect((await summary).readings).toBe(1);
    expect(problems).toEqual([
      '2: column "v": "wet" is not a number',
      `3: time "yesterday" can't be read as ISO 8601 (2026-04-18T07:00:00Z)`,
      expect.stringMatching(/^4: time .* has no offset; say the logger's time zone with --zone/),
      '5: expected 2 columns, found 1',
      expect.stringMatching(/^6: holds bytes that are not UTF-8/),
    ]);
  });

  it('writes nothing when a column is missing, the file is empty or not there', async () => {
    const missing = await convert('when,v\n1,2\n', { rules: rules('v=a', 'w=b') });
    await expect(missing.summary).rejects.toThrow(/no column "time", "w"; its columns are: when, v/);
    expect(existsSync(missing.outFile)).toBe(false);
    const empty = await convert('', { rules: rules('v=a') });
    await expect(empty.summary).rejects.toThrow(/is empty; expected a header row/);
    const absent = await convert('time,v\n', { inFile: '/nowhere/at/all.csv', rules: rules('v=a') });
    await expect(absent.summary).rejects.toMatchObject({ code: 'logger-file-unusable' });
  });

  it('reads semicolons, decimal commas, local times and its own time format', async () => {
    const csv = 'time;v\n18.07.2026 07:30:00;1,25\n';
    const { written } = await convert(csv, {
      rules: rules('v=moist-t1'),
      delimiter: ';',
      decimalComma: true,
      time: { zone: 'Europe/Berlin', epoch: undefined, format: 'dd.MM.yyyy HH:mm:ss' },
    });
    expect(await written()).toContain('2026-07-18T05:30:00Z,moist-t1,1.25');
  });

  const berlin = { zone: 'Europe/Berlin', epoch: undefined, format: undefined };

  it('knows epoch counts, and refuses those beyond the year 9999', () => {
    expect(loggerTime('1776495600', { ...berlin, epoch: 's' })).toMatchObject({ atMs: 1776495600000 });
    expect(loggerTime('x', { ...berlin, epoch: 'ms' })).toMatch(/no count of ms/);
    expect(loggerTime('99999999999999999999', { ...berlin, epoch: 's' })).toMatch(/before the year 10000/);
  });

  it('takes an hour that comes twice in the order of the file, and counts its rows', async () => {
    const times = ['01:30', '02:00', '02:30', '02:00', '02:30', '03:00'].map(
      (time) => `2026-10-25 ${time},1`,
    );
    const { written, summary } = await convert(`time,v\n${times.join('\n')}\n`, {
      rules: rules('v=moist-t1'),
      time: berlin,
    });
    expect((await written()).match(/\d\d:\d\d:00Z/g)).toEqual(
      ['23:30', '00:00', '00:30', '01:00', '01:30', '02:00'].map((time) => `${time}:00Z`),
    );
    expect((await summary).doubtfulTimes).toBe(4);
    expect(loggerTime('2026-10-25T02:30:00', berlin)).toEqual({
      atMs: Date.UTC(2026, 9, 25, 0, 30),
      isDoubtful: true,
    });
  });

  it('reports a time that the clocks leapt over, in ISO and in its own format', () => {
    expect(loggerTime('2026-03-29 02:30', berlin)).toMatch(/never was in Europe\/Berlin/);
    const own = { ...berlin, format: 'dd.MM.yyyy HH:mm' };
    expect(loggerTime('29.03.2026 02:30', own)).toMatch(/never was in Europe\/Berlin/);
    expect(loggerTime('29.03.2026 03:30', own)).toMatchObject({ atMs: Date.UTC(2026, 2, 29, 1, 30) });
    expect(loggerTime('29.03.2026 03:30', { ...own, zone: undefined })).toMatch(/with --zone/);
  });

  it('writes nothing when no row can be used, and refuses a row without end', async () => {
    const none = await convert('time,v\n2026-04-18T07:00:00Z,wet\n', { rules: rules('v=moist-t1') });
    expect(await none.summary).toMatchObject({ rows: 1, readings: 0 });
    expect(existsSync(none.outFile)).toBe(false);
    const infinite = await convert('time,v\n2026-04-18T07:00:00Z,1e999\n', { rules: rules('v=a') });
    expect((await infinite.summary).problems).toBe(1);
    const long = await convert(`time,v\n"${'x'.repeat(200_000)}`, { rules: rules('v=a') });
    await expect(long.summary).rejects.toThrow(/row 2 is longer than 65536 characters/);
  });

  it('refuses what is no rule with a sentence, and never throws', () => {
    expect(parseValueRule('moisture')).toMatch(/expected COLUMN\[@SERIES\]=PROBE/);
    expect(parseValueRule('moisture=soil probe')).toMatch(/expected COLUMN/);
    fc.assert(fc.property(fc.string(), (text) => ['string', 'object'].includes(typeof parseValueRule(text))));
  });
});
