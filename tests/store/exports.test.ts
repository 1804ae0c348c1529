import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import { influxSchema } from '../../shared/config/store.js';
import { type ExportName, exportRowSchemas } from '../../shared/export-rows.js';
import { journalAnswerSchema } from '../../shared/page/page-journal.js';
import { loadConfig } from '../../src/cli/config/load-config.js';
import { openReview } from '../../src/cli/running/house-parts/open-review.js';
import type { Fact } from '../../src/monitor/ports/facts.js';
import { exportJsonLines } from '../../src/store/exports/export-rows.js';
import { openInfluxStore } from '../../src/store/influx/open-influx-store.js';
import { openSqliteStore } from '../../src/store/sqlite/open-sqlite-store.js';
import { createSpeech } from '../../src/watering/sentences/speech.js';
import { describeIf } from '../helpers/needs.js';
import { typed } from '../helpers/typed.js';
import { FakeClock } from './helpers/fake-clock.js';
import { Influxd } from './helpers/influxd.js';
import { alarm, forecast, HOUR_MS, moisture, NOON_MS, newTray, note } from './helpers/sample-facts.js';
import { makeTempFolder, tempFolder } from './helpers/temp-folder.js';

const at = (h: number): string => toInstant(NOON_MS + h * HOUR_MS);
const told = { at: at(5), tray: 't1', event: 'watered', ml: 300 } as const;

/** A day of a farm in which everything happens that an export has a table for. */
const DAY: readonly Fact[] = [
  newTray('t1', NOON_MS),
  moisture('moist-t1', NOON_MS + HOUR_MS, 0.5),
  ...[1, 2, 3, 4].map((h) => forecast('t1', NOON_MS + h * HOUR_MS, 0.6 - 0.05 * h)),
  {
    kind: 'round-notice',
    notice: {
      at: at(2),
      round: at(3),
      due: [
        {
          tray: 't1',
          bench: 'south',
          doseMl: 580,
          pourPlan: { pours: 2, pourMl: 290, soakMin: 10 },
          hoursToRefill: { p10: 4, p50: 6.5, p90: null },
        },
      ],
      canWait: [{ tray: 't2', untilRound: at(15) }],
      sentence: 'Bench south: water tray t1.',
    },
  },
  alarm('t1', NOON_MS + 4 * HOUR_MS),
  {
    kind: 'call',
    call: {
      at: at(4),
      kind: 'refill',
      bench: 'south',
      trays: ['t1'],
      again: false,
      sentence: 'Water tray t1.',
    },
  },
  { kind: 'watering', watering: { at: at(4.5), tray: 't1', source: 'logged', by: '=Mira' } },
  { kind: 'watering', watering: { at: at(4.5), tray: 't1', source: 'logged', takenUpMl: 512, amends: true } },
  { kind: 'tray-event', event: told },
  { kind: 'watering', watering: { at: at(5), tray: 't1', source: 'logged', ml: 300 } },
  { kind: 'tray-event-undone', event: told },
  { kind: 'ask', at: at(6), trays: ['t1', 't2'], sentence: 'Were t1 and t2 watered?' },
  {
    kind: 'answer',
    answer: { ref: 'r1', at: at(6.5), ok: false, code: 'unknown-tray', sentence: 'There is no tray t9.' },
  },
  note(NOON_MS + 7 * HOUR_MS, 'Heater off, "vents" open'),
  {
    kind: 'dry-down',
    dryDown: {
      trayId: 't1',
      startedAtMs: NOON_MS,
      endedAtMs: NOON_MS + 4.5 * HOUR_MS,
      startWaterContentM3PerM3: 0.6,
      endWaterContentM3PerM3: 0.38,
      hasProbe: true,
    },
  },
  { kind: 'probe-drift', probeId: 'moist-t1', atMs: NOON_MS + 9 * HOUR_MS, driftM3PerM3: 0.04 },
];

const NAMES = Object.keys(exportRowSchemas) as readonly ExportName[];
const DAYS = ['--since', '2026-04-17', '--until', '2026-04-21'];

function farmFile(folder: string, store: object): string {
  const file = join(folder, 'drybell.json');
  writeFileSync(
    file,
    JSON.stringify({
      farm: 'alder-row',
      timeZone: 'Europe/Berlin',
      benches: [{ id: 'south' }],
      units: { volume: 'fl oz' },
      store,
    }),
  );
  return file;
}

async function exported(config: string, what: ExportName): Promise<readonly unknown[]> {
  const farm = loadConfig(config);
  const queries = openReview(farm);
  const shares: number[] = [];
  const span = { fromMs: NOON_MS - 24 * HOUR_MS, toMs: NOON_MS + 60 * 24 * HOUR_MS };
  let text = '';
  for await (const part of exportJsonLines(queries, what, {
    span,
    say: createSpeech(farm).say,
    onProgress: (share) => shares.push(share),
  }))
    text += part;
  await queries.close();
  expect(shares.at(-1)).toBeCloseTo(1, 9);
  expect(shares).toEqual([...shares].sort((one, other) => one - other));
  return text
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => JSON.parse(line));
}

function itTellsTheSeason(config: () => string): void {
  it.each(NAMES)('writes %s as JSON lines of its schema', async (name) => {
    const rows = await exported(config(), name);
    expect(rows.length).toBeGreaterThan(0);
    for (const row of rows)
      expect(exportRowSchemas[name].safeParse(row), JSON.stringify(row)).toMatchObject({ success: true });
  });

  it('one pour is one row, with what its probe said later, and what was undone says so', async () => {
    expect(await exported(config(), 'waterings')).toEqual([
      { at: at(4.5), tray: 't1', source: 'logged', by: '=Mira', takenUpMl: 512, undone: false },
      { at: at(5), tray: 't1', source: 'logged', ml: 300, undone: true },
    ]);
  });

  it('the journal tells the same in words, in the units and on the clock of the farm', async () => {
    const { status, stdout, stderr } = await typed(['journal', ...DAYS, '--config', config()]);
    expect(status, stderr).toBe(0);
    const lines = stdout.trimEnd().split('\n');
    const line = (part: string) => lines.find((one) => one.includes(part));
    expect(line('Water tray t1.')).toMatch(/^18 Apr 2026, 18:00 {2}/);
    expect(line('by =Mira')).toContain('t1 watered, filled');
    expect(line('10 fl oz')).toContain('(undone)');
    expect(line('Were t1 and t2 watered?')).toBeDefined();
    expect(line('Heater off')).toContain('by Mira');
    expect(line('has drifted by 4 %')).toBeDefined();
    const found = await typed(['journal', 'HEATER', '--json', ...DAYS, '--config', config()]);
    expect(journalAnswerSchema.parse(JSON.parse(found.stdout)).entries).toMatchObject([{ kind: 'note' }]);
    const water = await typed([
      'journal',
      '--kind',
      'water',
      '--tray',
      't1',
      '--newest',
      '1',
      ...DAYS,
      '--config',
      config(),
    ]);
    expect(water.stdout.split('\n')[0]).toContain('(undone)');
    expect(water.stdout).toContain('Older ones are left out');
    expect(
      (await typed(['journal', '--tray', 't2', '--kind', 'notes', ...DAYS, '--config', config()])).stdout,
    ).toMatch(/Nothing of this kind/);
  });
}

describe('what a season leaves in SQLite', () => {
  let config = '';
  beforeAll(async () => {
    const folder = makeTempFolder();
    config = farmFile(folder, { folder });
    const store = openSqliteStore({ folder, clock: new FakeClock(NOON_MS + 24 * HOUR_MS) });
    await store.keep(DAY);
    await store.close();
  });
  itTellsTheSeason(() => config);

  it('all tables go into a folder, CSV and JSON lines with the same columns', async () => {
    const [asCsv, asJson] = [join(tempFolder(), 'csv'), join(tempFolder(), 'lines')];
    const all = ['export', 'all', ...DAYS, '--config', config];
    expect(await typed([...all, '--out', asCsv])).toMatchObject({ status: 0, stdout: '', stderr: '' });
    expect((await typed([...all, '--json', '--out', asJson])).status).toBe(0);
    expect(readdirSync(asCsv).sort()).toEqual(NAMES.map((name) => `${name}.csv`).sort());
    for (const name of NAMES) {
      const [header = [], ...rows]: string[][] = parse(readFileSync(join(asCsv, `${name}.csv`), 'utf8'));
      expect(header).toEqual(Object.keys(exportRowSchemas[name].shape));
      const lines = readFileSync(join(asJson, `${name}.jsonl`), 'utf8')
        .trimEnd()
        .split('\n');
      expect(rows).toHaveLength(lines.length);
      expect(rows.every((row) => row.length === header.length)).toBe(true);
      const used = lines.flatMap((line) => Object.keys(JSON.parse(line) as object));
      expect(header).toEqual(expect.arrayContaining([...new Set(used)]));
    }
    expect(await typed([...all, '--out', asCsv])).toMatchObject({ status: 2 });
    expect(await typed(all)).toMatchObject({ status: 2, stderr: expect.stringContaining('--out') });
  });

  it.each([
    [['journal', '--kind', 'watre'], 'Did you mean "water"?'],
    [['journal', '--newest', 'many'], 'expected a number such as 50'],
    [['export', 'watering'], 'Did you mean "waterings"?'],
  ])('refuses %j with one line that helps', async (words, says) => {
    const { status, stderr } = await typed([...words, '--config', config]);
    expect(status).toBe(2);
    expect(stderr).toContain(says);
  });
});

describeIf('influxd', 'what a season leaves in InfluxDB', () => {
  let influxd: Influxd;
  let config = '';
  beforeAll(async () => {
    influxd = await Influxd.start();
    const folder = makeTempFolder();
    const influx = { url: influxd.url, database: 'season', monitor: 'south' };
    config = farmFile(folder, { folder, influx });
    const store = openInfluxStore({
      folder,
      farm: 'alder-row',
      influx: influxSchema.parse(influx),
      clock: new FakeClock(NOON_MS + 24 * HOUR_MS),
      random: () => 0.5,
    });
    await store.keep(DAY);
    await store.flush();
    expect(await store.drain()).toBe(true);
    await store.close();
  }, 60_000);
  afterAll(() => influxd.stop());
  itTellsTheSeason(() => config);
});
