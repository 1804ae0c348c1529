import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { toolPath } from '../helpers/needs.js';
import { killRounds } from '../store/helpers/kill-rounds.js';
import { seededRandom } from '../store/helpers/seeded-random.js';
import { type Measurement, optionNumber, table } from './measurement.js';
import type { Contender } from './store-parts/contender.js';
import { bareTable, drybellStore, influxdb, spool } from './store-parts/contenders.js';
import {
  MINUTES_PER_DAY,
  PROBE_COUNT,
  YEAR_START_MS,
  YearOfReadings,
} from './store-parts/year-of-readings.js';

const MS_PER_DAY = 86_400_000;
const BATCH = 1000;
const REPEATS = 7;
const BUCKETS = 1000;

/** Days over which the bytes written to the disk are counted. */
const CARD_DAYS = 3;

const help = `The store against a bare SQLite table and a real InfluxDB: ${PROBE_COUNT} probes at one-minute cadence.

  --days N      days of readings (default 365: 5.3 million readings; 30 takes a few seconds)
  --kills N     rounds of kill -9 at random moments (default 100; 0 leaves them out)
  --without-influx`;

interface Row {
  readonly name: string;
  readonly readingsPerS: number;
  /** Readings for one second of this process's own CPU time: what remains when others share the machine. */
  readonly readingsPerCpuS: number;
  readonly year: Cost;
  readonly day: Cost;
  readonly bytesPerReading: number;
  readonly allBytesPerReading: number;
}

interface Cost {
  readonly wallMs: number;
  readonly cpuMs: number;
}

async function costOf(run: () => Promise<unknown>): Promise<Cost> {
  const startedMs = performance.now();
  const started = process.cpuUsage();
  await run();
  const { user, system } = process.cpuUsage(started);
  return { wallMs: performance.now() - startedMs, cpuMs: (user + system) / 1000 };
}

/** Medians after one run to warm up. */
async function medianCost(run: () => Promise<unknown>): Promise<Cost> {
  const costs: Cost[] = [];
  for (let repeat = 0; repeat <= REPEATS; repeat++) costs.push(await costOf(run));
  const median = (pick: (cost: Cost) => number) =>
    costs
      .slice(1)
      .map(pick)
      .sort((a, b) => a - b)[Math.floor(REPEATS / 2)] ?? Number.NaN;
  return { wallMs: median(({ wallMs }) => wallMs), cpuMs: median(({ cpuMs }) => cpuMs) };
}

async function measure(contender: Contender, days: number): Promise<Row> {
  const year = new YearOfReadings();
  let writingMs = 0;
  let writingCpuMs = 0;
  for (let minute = 0; minute < days * MINUTES_PER_DAY; minute += BATCH / PROBE_COUNT) {
    const batch = Array.from({ length: BATCH / PROBE_COUNT }, (_, n) => year.minute(minute + n)).flat();
    const { wallMs, cpuMs } = await costOf(() => contender.write(batch));
    writingMs += wallMs;
    writingCpuMs += cpuMs;
  }
  await contender.settle();
  const count = days * MINUTES_PER_DAY * PROBE_COUNT;
  const endMs = YEAR_START_MS + days * MS_PER_DAY;
  const all = { fromMs: YEAR_START_MS, toMs: endMs };
  const day = { fromMs: endMs - 2 * MS_PER_DAY, toMs: endMs - MS_PER_DAY };
  const yearCost = await medianCost(() => contender.chart('moist-t3', all, BUCKETS));
  const dayCost = await medianCost(() => contender.chart('moist-t3', day, BUCKETS));
  const bytes = await contender.bytes();
  await contender.close();
  return {
    name: contender.name,
    readingsPerS: (count / writingMs) * 1000,
    readingsPerCpuS: (count / writingCpuMs) * 1000,
    year: yearCost,
    day: dayCost,
    bytesPerReading: bytes.readings / count,
    allBytesPerReading: bytes.all / count,
  };
}

/** Bytes that the kernel was asked to write to the disk, as it counts them for this process. */
function bytesWritten(): number {
  return Number(/write_bytes: (\d+)/.exec(readFileSync('/proc/self/io', 'utf8'))?.[1] ?? 0);
}

/** What one reading costs a card. */
async function bytesPerReading(store: Pick<Contender, 'write' | 'close'>): Promise<number> {
  const year = new YearOfReadings();
  const before = bytesWritten();
  for (let minute = 0; minute < CARD_DAYS * MINUTES_PER_DAY; minute++) await store.write(year.minute(minute));
  await store.close();
  return (bytesWritten() - before) / (CARD_DAYS * MINUTES_PER_DAY * PROBE_COUNT);
}

function report(rows: readonly Row[]): string {
  return table([
    ['', 'readings/s', 'per CPU s', 'year, ms', 'CPU', 'day, ms', 'CPU', 'bytes/reading', 'with roll-ups'],
    ...rows.map((row) => [
      row.name,
      Math.round(row.readingsPerS).toLocaleString('en'),
      Math.round(row.readingsPerCpuS).toLocaleString('en'),
      row.year.wallMs.toFixed(1),
      row.year.cpuMs.toFixed(1),
      row.day.wallMs.toFixed(1),
      row.day.cpuMs.toFixed(1),
      row.bytesPerReading.toFixed(1),
      row.allBytesPerReading.toFixed(1),
    ]),
  ]);
}

async function run(options: readonly string[]): Promise<number> {
  const days = optionNumber(options, '--days', 365);
  const kills = optionNumber(options, '--kills', 100);
  const folder = mkdtempSync(join(tmpdir(), 'drybell-bench-'));
  const fresh = () => mkdtempSync(join(folder, 'store-'));
  try {
    const nowMs = YEAR_START_MS + (days + 1) * MS_PER_DAY;
    const rows = [
      await measure(drybellStore(fresh(), nowMs, BATCH), days),
      await measure(bareTable(fresh()), days),
    ];
    if (!options.includes('--without-influx') && toolPath('influxd') !== undefined)
      rows.push(await measure(await influxdb(), days));
    console.log(
      `${days} days of ${PROBE_COUNT} probes a minute, batches of ${BATCH}, charts of ${BUCKETS} buckets; CPU is that of this process, not of a server\n`,
    );
    console.log(report(rows));
    const cardMs = YEAR_START_MS + CARD_DAYS * MS_PER_DAY;
    for (const batch of [PROBE_COUNT, 60]) {
      const own = await bytesPerReading(drybellStore(fresh(), cardMs, batch));
      const spooled = await bytesPerReading(spool(fresh(), cardMs, batch));
      console.log(
        `\nwritten to the disk per reading, batches of ${batch}: ${Math.round(own)} bytes, with InfluxDB configured ${Math.round(spooled)}`,
      );
    }
    if (kills === 0) return 0;
    const killed = await killRounds(fresh(), kills, seededRandom(Date.now()));
    console.log(
      `\n${killed.rounds} times kill -9: ${killed.acknowledged} facts acknowledged, ${killed.lost} lost, ${killed.doubled} doubled`,
    );
    return killed.lost + killed.doubled === 0 ? 0 : 1;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

export const measurement: Measurement = { help, run };
