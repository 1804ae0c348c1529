import { appendFileSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { alarmTransitionSchema } from '../../shared/facts/alarm.js';
import { forecastSchema } from '../../shared/facts/forecast.js';
import { roundNoticeSchema } from '../../shared/facts/round-notice.js';
import { wateringSchema } from '../../shared/facts/watering.js';
import { loadConfig } from '../../src/cli/config/load-config.js';
import { createFarmParts } from '../../src/cli/running/house-parts/farm-parts.js';
import type { RejectedRow } from '../../src/worlds/replay/csv-table.js';
import { runReplay } from '../../src/worlds/replay/run-replay.js';
import { recordScenario } from '../benchmark/record-scenario.js';
import { RECIPES } from '../benchmark/scenario-recipes.js';
import { writeScenario } from '../benchmark/write-scenario.js';

const HOUR_MS = 3_600_000;
const folder = mkdtempSync(join(tmpdir(), 'drybell-replay-'));
const files = {
  config: join(folder, 'farm/config.json'),
  readings: join(folder, 'farm/readings.csv'),
  log: join(folder, 'farm/log.csv'),
};

async function replayInto(name: string, change: { readings?: string; log?: string } = {}) {
  const config = loadConfig(files.config);
  const rejected: RejectedRow[] = [];
  const out = join(folder, name);
  const summary = await runReplay({
    config,
    readingsFile: change.readings ?? files.readings,
    logFile: change.log ?? files.log,
    outFolder: out,
    createPipeline: (startMs) => createFarmParts(config, { startMs, drive: 'replay' }).pipeline,
    onReject: (row) => rejected.push(row),
  });
  const lines = (file: string): Record<string, unknown>[] =>
    readFileSync(join(out, file), 'utf8')
      .split('\n')
      .filter((line) => line !== '')
      .map((line) => JSON.parse(line) as Record<string, unknown>);
  return { summary, rejected, out, lines };
}

type Replayed = Awaited<ReturnType<typeof replayInto>>;
let whole: Replayed;

beforeAll(async () => {
  const recipe = RECIPES.find(({ kind }) => kind === 'spring-mixed');
  if (recipe === undefined) throw new Error('the scenario "spring-mixed" is gone');
  writeScenario(
    recordScenario({ ...recipe, days: 4, trays: recipe.trays.slice(0, 3) }, 7),
    join(folder, 'farm'),
  );
  whole = await replayInto('whole');
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('replay', () => {
  it('gives a line per tray at each full hour, and every line fits the contract', async () => {
    const { lines, summary } = whole;
    const config = loadConfig(files.config);
    const forecasts = lines('forecasts.jsonl').map((line) => forecastSchema.parse(line));
    const [first, last] = [Date.parse(summary.from ?? ''), Date.parse(summary.to ?? '')];
    const expected = new Set<string>();
    for (let atMs = Math.ceil(first / HOUR_MS) * HOUR_MS; atMs <= last; atMs += HOUR_MS)
      for (const { id } of config.trays) expected.add(`${atMs} ${id}`);
    expect(new Set(forecasts.map(({ at, tray }) => `${Date.parse(at)} ${tray}`))).toEqual(expected);
    for (const { hoursToRefill, hoursToRefillDriestTenth } of forecasts) {
      for (const { p10, p50, p90 } of [hoursToRefill, hoursToRefillDriestTenth]) {
        const [low, middle, high] = [p10 ?? 121, p50 ?? 121, p90 ?? 121];
        expect(low).toBeLessThanOrEqual(middle);
        expect(middle).toBeLessThanOrEqual(high);
      }
      expect(hoursToRefillDriestTenth.p50 ?? 121).toBeLessThanOrEqual(hoursToRefill.p50 ?? 121);
    }
    for (const line of lines('alarms.jsonl')) alarmTransitionSchema.parse(line);
    for (const line of lines('waterings.jsonl')) wateringSchema.parse(line);
    const notices = lines('rounds.jsonl').map((line) => roundNoticeSchema.parse(line));
    expect(notices).toHaveLength(8);
    for (const { at, round, due, canWait } of notices) {
      expect(Date.parse(round) - Date.parse(at)).toBe(75 * 60_000);
      expect(due.length + canWait.length).toBe(config.trays.length);
    }
  });

  it('two runs give the same bytes', async () => {
    const [one, other] = [whole, await replayInto('other')];
    const names = readdirSync(one.out).sort();
    expect(names).toEqual(
      expect.arrayContaining([
        'alarms.jsonl',
        'forecasts.jsonl',
        'rounds.jsonl',
        'summary.json',
        'waterings.jsonl',
      ]),
    );
    for (const name of names)
      expect(readFileSync(join(one.out, name), 'utf8')).toBe(readFileSync(join(other.out, name), 'utf8'));
  });

  it('does not look ahead: cut off the recording, and what was said before stays the same', async () => {
    const rows = readFileSync(files.readings, 'utf8').split('\n');
    const half = rows.slice(0, Math.floor(rows.length / 2));
    const cutMs = Date.parse(half.at(-1)?.split(',')[0] ?? '');
    writeFileSync(join(folder, 'half.csv'), half.join('\n'));
    const logRows = readFileSync(files.log, 'utf8').split('\n');
    const halfLog = logRows.filter(
      (row, index) => index === 0 || Date.parse(row.split(',')[0] ?? '') <= cutMs,
    );
    writeFileSync(join(folder, 'half-log.csv'), halfLog.join('\n'));
    const cut = await replayInto('half', {
      readings: join(folder, 'half.csv'),
      log: join(folder, 'half-log.csv'),
    });
    for (const file of ['forecasts.jsonl', 'alarms.jsonl', 'rounds.jsonl']) {
      const said = whole.lines(file).filter(({ at }) => Date.parse(String(at)) < cutMs);
      expect(cut.lines(file).filter(({ at }) => Date.parse(String(at)) < cutMs)).toEqual(said);
    }
    expect(cut.summary.forecasts).toBeGreaterThan(100);
  });

  it('the order of rows in the file does not matter', async () => {
    const [header = '', ...rows] = readFileSync(files.readings, 'utf8').trimEnd().split('\n');
    writeFileSync(join(folder, 'backwards.csv'), [header, ...rows.reverse()].join('\n'));
    const backwards = await replayInto('backwards', { readings: join(folder, 'backwards.csv') });
    const said = (run: Replayed) => run.lines('forecasts.jsonl').at(-1);
    expect(said(backwards)).toEqual(said(whole));
  });

  it('leaves out rows that can not be used, says which and why, and counts them', async () => {
    const readings = join(folder, 'dirty.csv');
    const log = join(folder, 'dirty-log.csv');
    writeFileSync(
      readings,
      'time,probe,value\n2026-04-18T07:00:00Z,temp-south,18.2\nyesterday,temp-south,18\n2026-04-18T07:05:00Z,temp-east,18\n2026-04-18T07:10:00Z,temp-south,warm\n2026-04-18T07:15:00Z,temp-south\n\n2026-04-18T07:20:00Z,temp-south,\n2026-04-18T07:00:00Z,temp-south,18.9\n2026-04-18T08:00:00Z,temp-south,18.4\n',
    );
    appendFileSync(readings, Buffer.from('2026-04-18T08:10:00Z,temp-s\xfcd,18\n', 'latin1'));
    writeFileSync(
      log,
      'time,tray,event,ml\n2026-04-18T06:00:00Z,t1,watered,\n2026-04-18T06:10:00Z,t1,sprinkled,\n2026-04-18T06:20:00Z,t9,watered,\n2026-04-18T06:30:00Z,t1,watered,-3\n',
    );
    const { summary, rejected } = await replayInto('dirty', { readings, log });
    expect(rejected.map(({ file, row }) => `${file.split('/').at(-1)} ${row}`)).toEqual([
      'dirty.csv 3',
      'dirty.csv 4',
      'dirty.csv 5',
      'dirty.csv 6',
      'dirty.csv 11',
      'dirty.csv 9',
      'dirty-log.csv 3',
      'dirty-log.csv 4',
      'dirty-log.csv 5',
    ]);
    expect(rejected[4]?.reason).toMatch(/not UTF-8/);
    expect(rejected[5]?.reason).toMatch(/probe and time of row 2/);
    expect(summary.rejected).toBe(9);
    expect(summary.readings).toBe(3);
    expect(summary.logRows).toBe(1);
    expect(summary.waterings.logged).toBe(1);
  });

  it.each([
    [
      'a header that is not the one expected',
      'when,probe,value\n',
      /column "time" is missing; column "when" is unknown/,
    ],
    ['an empty file', '', /is empty; expected the header time,probe,value/],
  ])('refuses %s and leaves no results behind', async (name, text, message) => {
    const readings = join(folder, 'refused.csv');
    writeFileSync(readings, text);
    await expect(replayInto(`refused ${name}`, { readings })).rejects.toThrow(message);
    expect(readdirSync(folder)).not.toContain(`refused ${name}`);
  });

  it.each([
    [
      'of semicolons',
      'time;probe;value\n',
      /parted by ";", expected commas: time,probe,value.* convert --delim/,
    ],
    [
      'in one line without end',
      `time,probe,value\n${'1'.repeat(20_000_000)}`,
      /row 2 is longer than 65536 characters/,
    ],
    ['of 200,000 columns', `${'time,'.repeat(200_000)}\n`, /row 1 is longer than 65536 characters/],
    [
      'of which no row can be used',
      'time,probe,value\n2026-04-18T07:00:00Z,temp-south,"20,5"\n',
      /none of 1 rows can be used.*"20,5" is not a number; is 1,5 meant for 1.5\?/,
    ],
  ])('refuses a file %s in one sentence', async (name, text, message) => {
    const readings = join(folder, 'odd.csv');
    writeFileSync(readings, text);
    const log = join(folder, 'empty-log.csv');
    writeFileSync(log, 'time,tray,event\n');
    await expect(replayInto(`odd ${name}`, { readings, log })).rejects.toThrow(message);
    expect(readdirSync(folder)).not.toContain(`odd ${name}`);
  });

  it('leaves out rows of a clock that was lost, of days and numbers that never were, and plays the rest', async () => {
    const readings = join(folder, 'lost-clock.csv');
    const rows = [
      ...['1970-01-01', '2100-01-01', '9999-12-31', '2026-02-30'].map(
        (day) => `${day}T00:00:00Z,temp-south,18`,
      ),
      '2026-04-18T07:00:00Z,temp-south,18.2',
      '2026-04-18T07:10:00Z,temp-south,1e999',
      '2026-04-18T07:20:00Z,temp-south,20,5',
      '2026-04-18T08:00:00Z,temp-south,18.4',
    ];
    writeFileSync(readings, `time,probe,value\n${rows.join('\n')}\n`);
    const log = join(folder, 'lost-clock-log.csv');
    writeFileSync(log, 'time,tray,event\n2062-04-18T06:00:00Z,t1,watered\n2026-04-18T06:00:00Z,t1,watered\n');
    const { summary, rejected } = await replayInto('lost-clock', { readings, log });
    expect(rejected.map(({ row, reason }) => `${row} ${reason}`)).toEqual([
      expect.stringMatching(/^5 time "2026-02-30T00:00:00Z" is not RFC 3339/),
      expect.stringMatching(/^7 value "1e999" is not a number/),
      expect.stringMatching(/^8 expected 3 columns, found 4; is 1,5 meant for 1.5/),
      expect.stringMatching(/^2 1970-01-01T00:00:00Z lies more than 400 days from the rest/),
      expect.stringMatching(/^3 2100-/),
      expect.stringMatching(/^4 9999-/),
      expect.stringMatching(/^2 2062-.*is the date right/),
    ]);
    expect(summary).toMatchObject({ readings: 2, logRows: 1, rejected: 7 });
  });

  it('refuses a file that is not there', async () => {
    await expect(replayInto('none', { readings: join(folder, 'no-such.csv') })).rejects.toThrow(
      /no-such.csv: can't be read/,
    );
  });
});
