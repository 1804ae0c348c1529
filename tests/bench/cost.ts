import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { type AddressInfo, createServer } from 'node:net';
import { availableParallelism, loadavg, tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { Aedes } from 'aedes';
import { openForReading } from '../../src/store/sqlite/file/store-file.js';
import { recordScenario } from '../benchmark/record-scenario.js';
import { RECIPES } from '../benchmark/scenario-recipes.js';
import { writeScenario } from '../benchmark/write-scenario.js';
import { freePort } from '../helpers/running-monitor.js';
import { startUntil } from './cost-parts/child.js';
import { deliveredFarm, Nodes } from './cost-parts/delivered-farm.js';
import { costOfProcess, type ProcessCost } from './cost-parts/process-cost.js';
import { type Measurement, medianMs, optionNumber, table } from './measurement.js';
import { bareTable, drybellStore } from './store-parts/contenders.js';
import {
  MINUTES_PER_DAY,
  PROBE_COUNT,
  YEAR_START_MS,
  YearOfReadings,
} from './store-parts/year-of-readings.js';

const help = `What the program costs, beside a bare Node script that only hears numbers over MQTT and puts them into SQLite, in one run.

  --trays N      default 40, each with a probe that comes by MQTT
  --minutes N    for memory, processor and disk; default 20
  --cadence-s N  default 60
  --starts N     of each program, the median counts; default 5
  --days N       of readings in the year's chart; default 365; 0 leaves it out
  --replay-days N  default 3 at 10 s, five times that at 5 min; 0 leaves it out`;

const main = resolve('dist/src/cli/main.js');
const bareScript = join(dirname(fileURLToPath(import.meta.url)), 'cost-parts', 'bare-script.js');
const BATCH = 1000;
const CHARTS = 9;
const BUCKETS = 1000;
const SETTLE_MS = 5_000;
const REPLAY_CADENCES_S = [10, 300] as const;

type Row = readonly [what: string, drybell: string, bare: string, goal: string];

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;

/** A plain broker for the bare script, in this process. */
async function plainBroker() {
  const broker = await Aedes.createBroker();
  const server = createServer((socket) => void broker.handle(socket));
  await new Promise<void>((listening) => server.listen(0, '127.0.0.1', listening));
  return {
    address: `mqtt://127.0.0.1:${(server.address() as AddressInfo).port}`,
    close: async () => {
      await new Promise<void>((closed) => broker.close(() => closed()));
      await new Promise((closed) => server.close(closed));
    },
  };
}

/** A folder with a farm's configuration, and where its broker will be. */
async function farmFolder(under: string, trayCount: number, cadenceS: number) {
  const folder = mkdtempSync(join(under, 'farm-'));
  const listenPort = await freePort();
  const config = join(folder, 'drybell.json');
  writeFileSync(
    config,
    JSON.stringify({
      farm: 'alder-row',
      cadenceS,
      ...deliveredFarm(trayCount),
      messaging: { listenPort },
      page: { listenPort: await freePort() },
      store: { folder: join(folder, 'data') },
    }),
  );
  return { folder, config, broker: `mqtt://127.0.0.1:${listenPort}`, data: join(folder, 'data') };
}

async function starts(under: string, count: number, trayCount: number): Promise<readonly Row[]> {
  const broker = await plainBroker();
  const live = await farmFolder(under, trayCount, 60);
  const contenders = [
    { name: 'live', word: '"ready"', args: [main, 'run', '--config', live.config] },
    { name: 'demo', word: 'mqtt://', args: [main, 'demo'] },
    { name: 'bare', word: 'ready', args: [bareScript, broker.address, under] },
  ];
  const times = new Map<string, { readonly ms: number[]; readonly processorMs: number[] }>();
  for (let n = 0; n <= count; n++)
    for (const { name, word, args } of contenders) {
      const child = await startUntil(word, args, under);
      await child.stop();
      const of = times.get(name) ?? { ms: [], processorMs: [] };
      times.set(name, of);
      // the first one fills the machine's caches
      if (n === 0) continue;
      of.ms.push(child.readyMs);
      of.processorMs.push(child.readyProcessorMs);
    }
  await broker.close();
  const shown = (name: string) => {
    const of = times.get(name);
    return `${median(of?.ms ?? []).toFixed(0)} (${median(of?.processorMs ?? []).toFixed(0)})`;
  };
  return [
    ['ready, live, ms (of them at the processor)', shown('live'), shown('bare'), '1,000'],
    ['ready, demo, ms (of them at the processor)', shown('demo'), shown('bare'), '2,000'],
  ];
}

function storedBytesPerReading(folder: string): number {
  const db = openForReading(folder);
  const pages = db.prepare("SELECT sum(pgsize) FROM dbstat WHERE name = 'reading'").pluck().get();
  const count = db.prepare('SELECT count(*) FROM reading').pluck().get();
  db.close();
  return Number(pages) / Number(count);
}

async function idle(
  under: string,
  trayCount: number,
  cadenceS: number,
  minutes: number,
): Promise<readonly Row[]> {
  const broker = await plainBroker();
  const farm = await farmFolder(under, trayCount, cadenceS);
  const house = await startUntil('"ready"', [main, 'run', '--config', farm.config], farm.folder);
  const bareFolder = mkdtempSync(join(under, 'bare-'));
  const bare = await startUntil('ready', [bareScript, broker.address, bareFolder], bareFolder);
  const nodes = new Nodes(deliveredFarm(trayCount), [farm.broker, broker.address]);
  await sleep(SETTLE_MS);
  const before = [house, bare].map(({ pid }) => costOfProcess(pid));
  nodes.start(cadenceS * 1000);
  await sleep(minutes * 60_000);
  const after = [house, bare].map(({ pid }) => costOfProcess(pid));
  const { sentCount } = nodes;
  await nodes.stop();
  await house.stop();
  await bare.stop();
  await broker.close();
  const both = (of: (from: ProcessCost, to: ProcessCost) => string): [string, string] => {
    const [one, other] = before.map((from, index) => of(from, after[index] ?? from));
    return [one ?? '', other ?? ''];
  };
  return [
    ['resident memory after that, MB', ...both((_, to) => to.residentMb.toFixed(0)), '100'],
    [
      'processor, % of one core',
      ...both((from, to) => ((100 * (to.processorS - from.processorS)) / (minutes * 60)).toFixed(2)),
      '2',
    ],
    [
      'written to the disk, bytes a reading',
      ...both((from, to) => ((to.writtenBytes - from.writtenBytes) / sentCount).toFixed(0)),
      '200',
    ],
    ['kept, bytes a reading (young store)', storedBytesPerReading(farm.data).toFixed(1), '', '12'],
  ];
}

async function yearsChart(under: string, days: number): Promise<readonly Row[]> {
  const endMs = YEAR_START_MS + days * MINUTES_PER_DAY * 60_000;
  const stores = [
    drybellStore(mkdtempSync(join(under, 'year-')), endMs, BATCH),
    bareTable(mkdtempSync(join(under, 'year-'))),
  ];
  const year = new YearOfReadings();
  for (let minute = 0; minute < days * MINUTES_PER_DAY; minute += BATCH / PROBE_COUNT) {
    const batch = Array.from({ length: BATCH / PROBE_COUNT }, (_, n) => year.minute(minute + n)).flat();
    for (const store of stores) await store.write(batch);
  }
  const charts: string[] = [];
  const kept: string[] = [];
  for (const store of stores) {
    await store.settle();
    const times: number[] = [];
    for (let n = 0; n <= CHARTS; n++) {
      const startedMs = performance.now();
      await store.chart('moist-t3', { fromMs: YEAR_START_MS, toMs: endMs }, BUCKETS);
      if (n > 0) times.push(performance.now() - startedMs);
    }
    charts.push(median(times).toFixed(1));
    kept.push(((await store.bytes()).readings / (days * MINUTES_PER_DAY * PROBE_COUNT)).toFixed(1));
    await store.close();
  }
  const [own = '', bare = ''] = charts;
  return [
    [`chart over ${days} days, ms`, own, bare, '20'],
    [`kept, bytes a reading over ${days} days`, kept[0] ?? '', kept[1] ?? '', '12'],
  ];
}

async function replays(under: string, days: number): Promise<readonly Row[]> {
  const rows: Row[] = [];
  for (const cadenceS of REPLAY_CADENCES_S) {
    const base = RECIPES.find(({ kind }) => kind === 'spring-mixed');
    if (base === undefined) continue;
    const longS = cadenceS < 60 ? days : days * 5;
    const folder = join(under, `replay-${cadenceS}`);
    mkdirSync(folder);
    const scenario = recordScenario({ ...base, cadenceS, days: longS }, 1);
    writeScenario(scenario, folder);
    const ms = medianMs(2, () => {
      const { status, stderr } = spawnSync(
        process.execPath,
        [
          main,
          'replay',
          '--config',
          'config.json',
          '--readings',
          'readings.csv',
          '--log',
          'log.csv',
          '--out',
          'out',
          '--force',
          '--quiet',
        ],
        { cwd: folder, encoding: 'utf8' },
      );
      if (status !== 0) throw new Error(stderr);
    });
    const perS = (scenario.readings.count / ms) * 1000;
    rows.push([
      `replay at ${cadenceS} s, rows/s`,
      Math.round(perS).toLocaleString('en'),
      '',
      cadenceS < 60 ? '100,000' : '10,000',
    ]);
  }
  return rows;
}

export const measurement: Measurement = {
  help,
  run: async (options) => {
    const under = mkdtempSync(join(tmpdir(), 'drybell-cost-'));
    const trays = optionNumber(options, '--trays', 40);
    const days = optionNumber(options, '--days', 365);
    const replayDays = optionNumber(options, '--replay-days', 3);
    const minutes = optionNumber(options, '--minutes', 20);
    const cadenceS = optionNumber(options, '--cadence-s', 60);
    try {
      const rows = [
        ...(await starts(under, optionNumber(options, '--starts', 5), trays)),
        ...(minutes > 0 ? await idle(under, trays, cadenceS, minutes) : []),
        ...(days > 0 ? await yearsChart(under, days) : []),
        ...(replayDays > 0 ? await replays(under, replayDays) : []),
      ];
      console.log(
        table([
          [`${trays} trays, every ${cadenceS} s, ${minutes} min`, 'Drybell', 'bare script', 'goal'],
          ...rows,
        ]),
      );
      console.log(`load of the machine ${(loadavg()[0] ?? 0).toFixed(1)} on ${availableParallelism()} cores`);
    } finally {
      rmSync(under, { recursive: true, force: true });
    }
    return undefined;
  },
};
