import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { availableParallelism, loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { setImmediate as nextTurn } from 'node:timers/promises';
import { Worker } from 'node:worker_threads';
import { type FarmConfig, farmConfigSchema } from '../../shared/config/farm.js';
import { realClock } from '../../src/cli/program/real-clock.js';
import { openHouse } from '../../src/cli/running/house-parts/house.js';
import { createPublisher } from '../../src/messaging/publisher.js';
import type { Clock, ProbeReader, ProbeSample } from '../../src/monitor/ports/ports.js';
import { openSqliteStore } from '../../src/store/sqlite/open-sqlite-store.js';
import type { HeardCall } from './call-phone.js';
import { type Measurement, optionNumber } from './measurement.js';

const help = `From reading to published call: from the moment in which a reader hands in the readings of one round of probes to the
moment in which a subscriber of the own broker, in a thread of its own, has the call that follows from them. Monitor, desk, SQLite
store, outbox and broker are the real ones, files on the disk; the farm's clock goes on as soon as everything is done.

  --trays N   default 40, each with a probe, five to a bench
  --days N    of the farm's clock, one reading a minute; default 2`;

const TARGET_MS = { median: 20, p99: 100 };
const START_MS = Date.parse('2026-05-04T00:00:00Z');
const HOUR_MS = 3_600_000;
const CADENCE_MS = 60_000;
const TRAYS_PER_BENCH = 5;
const PATIENCE_MS = 10_000;
/** Water content of a block just watered and at the refill point, and what the probe shows of it. */
const FULL = 0.57;
const REFILL = 0.37;
const POINTS = [
  { volts: 2.21, waterContentM3PerM3: 0.155 },
  { volts: 1.33, waterContentM3PerM3: 0.581 },
] as const;
const VOLTS_PER_M3PERM3 =
  (POINTS[1].volts - POINTS[0].volts) / (POINTS[1].waterContentM3PerM3 - POINTS[0].waterContentM3PerM3);

function farmOf(trayCount: number): FarmConfig {
  const bench = (tray: number) => `b${Math.floor(tray / TRAYS_PER_BENCH) + 1}`;
  const trays = Array.from({ length: trayCount }, (_, tray) => ({
    id: `t${tray + 1}`,
    bench: bench(tray),
    blockSideMm: 19,
    blockCount: 280,
    containerCapacityM3PerM3: FULL,
    refillPointM3PerM3: REFILL,
  }));
  const benches = [...new Set(trays.map((tray) => tray.bench))];
  return farmConfigSchema.parse({
    farm: 'alder-row',
    benches: benches.map((id) => ({ id })),
    trays,
    probes: [
      ...benches.map((id) => ({ id: `temp-${id}`, kind: 'air-temperature', bench: id })),
      ...trays.map(({ id }) => ({
        id: `moist-${id}`,
        kind: 'block-moisture',
        tray: id,
        calibration: POINTS,
      })),
    ],
    messaging: { listenPort: 0 },
  });
}

/** Volts of one tray's probe: it dries in some 8 to 14 h, is watered a little too late, and dries again. */
function voltsAt(tray: number, atMs: number): number {
  const dryH = 8 + ((tray * 7) % 13) / 2;
  const cycleH = dryH * 1.15;
  const intoH = ((atMs - START_MS) / HOUR_MS + ((tray * 5) % 17) * 0.6) % cycleH;
  const noise = 0.0005 * Math.sin(tray + atMs / 1000);
  const waterContent = FULL - (FULL - REFILL) * (intoH / dryH) + noise;
  return POINTS[0].volts + (waterContent - POINTS[0].waterContentM3PerM3) * VOLTS_PER_M3PERM3;
}

/** A reader that has every reading at once, and knows when it handed in the last ones. */
class BenchReader implements ProbeReader {
  handedInAtMs = 0;
  processorAtHandInMs = 0;

  constructor(
    private readonly config: FarmConfig,
    private readonly clock: Clock,
  ) {}

  sample(): Promise<readonly ProbeSample[]> {
    const observedAtMs = this.clock.nowMs();
    const samples = this.config.probes.map(({ id, kind }): ProbeSample => {
      const hour = (observedAtMs / HOUR_MS) % 24;
      const rawValue =
        kind === 'air-temperature'
          ? 21 + 4 * Math.sin(((hour - 9) / 24) * 2 * Math.PI)
          : voltsAt(Number(id.slice('moist-t'.length)), observedAtMs);
      return { probeId: id, observedAtMs, rawValue };
    });
    const { user, system } = process.cpuUsage();
    this.processorAtHandInMs = (user + system) / 1000;
    this.handedInAtMs = performance.timeOrigin + performance.now();
    return Promise.resolve(samples);
  }

  health(): readonly [] {
    return [];
  }

  showCall(): Promise<void> {
    return Promise.resolve();
  }

  onAcknowledge(): void {
    return undefined;
  }

  close(): Promise<void> {
    return Promise.resolve();
  }
}

/** Waits in real time until `isTrue`; throws when that takes too long. */
async function until(isTrue: () => boolean): Promise<void> {
  const startedMs = performance.now();
  while (!isTrue()) {
    if (performance.now() - startedMs > PATIENCE_MS) throw new Error('a call did not arrive within 10 s');
    await nextTurn();
  }
}

/** One call on its way: time passed, and this process's share of it at the processor. */
interface Latency {
  readonly passedMs: number;
  readonly processorMs: number;
}

async function latencies(trayCount: number, days: number): Promise<readonly Latency[]> {
  const folder = mkdtempSync(join(tmpdir(), 'drybell-call-latency-'));
  const config = farmOf(trayCount);
  let nowMs = START_MS;
  let toldCount = 0;
  const heard: Latency[] = [];
  const clock: Clock = {
    nowMs: () => nowMs,
    monotonicMs: () => nowMs - START_MS,
    sleep: async (ms) => {
      await until(() => heard.length >= toldCount);
      nowMs += ms;
      await nextTurn();
    },
  };
  const silent = { debug: () => undefined, info: () => undefined, warn: console.error, error: console.error };
  const reader = new BenchReader(config, clock);
  // the store's own timers run in real time: only the monitor's sleep moves the farm's clock on
  const store = openSqliteStore({ folder, clock: { ...clock, sleep: realClock.sleep } });
  const publisher = await createPublisher({
    farm: config.farm,
    config: config.messaging,
    drive: 'live',
    timeZone: config.timeZone,
    dataFolder: folder,
    nowMs: clock.nowMs,
    log: silent,
  });
  const phone = new Worker(new URL('./call-phone.js', import.meta.url), {
    workerData: { address: publisher.address(), topic: `drybell/${config.farm}/call` },
  });
  await once(phone, 'message');
  phone.on('message', ({ atMs, processorMs }: HeardCall) =>
    heard.push({
      passedMs: atMs - reader.handedInAtMs,
      processorMs: processorMs - reader.processorAtHandInMs,
    }),
  );
  try {
    const house = await openHouse({ config, drive: 'live', clock, clockSpeed: 1, reader, store, publisher });
    const ended = new Promise<void>((resolve) => {
      house.onFacts((facts) => {
        toldCount += facts.filter(({ kind }) => kind === 'call').length;
        if (nowMs >= START_MS + days * 24 * HOUR_MS) resolve();
      });
    });
    await Promise.race([house.monitor.start().finished, ended]);
    await house.monitor.close();
    await until(() => heard.length >= toldCount);
  } finally {
    phone.postMessage('end');
    await once(phone, 'exit');
    await publisher.close();
    await store.close();
    rmSync(folder, { recursive: true, force: true });
  }
  return heard;
}

export const measurement: Measurement = {
  help,
  run: async (options) => {
    const trays = optionNumber(options, '--trays', 40);
    const days = optionNumber(options, '--days', 2);
    const calls = await latencies(trays, days);
    if (calls.length === 0) {
      console.error('No call was made: give more days.');
      return 1;
    }
    const at = (share: number, of: (call: Latency) => number) => {
      const sorted = calls.map(of).sort((a, b) => a - b);
      return (sorted[Math.min(sorted.length - 1, Math.ceil(share * sorted.length) - 1)] ?? 0).toFixed(1);
    };
    const passed = ({ passedMs }: Latency) => passedMs;
    const processor = ({ processorMs }: Latency) => processorMs;
    console.log(
      [
        `from reading to published call, ${trays} trays, ${calls.length} calls, a reading of each probe every ${CADENCE_MS / 1000} s:`,
        `median ${at(0.5, passed)} ms (target under ${TARGET_MS.median}), 99th percentile ${at(0.99, passed)} ms (target under ${TARGET_MS.p99}), longest ${at(1, passed)} ms`,
        `of that at the processor: median ${at(0.5, processor)} ms, 99th percentile ${at(0.99, processor)} ms; load of the machine ${(loadavg()[0] ?? 0).toFixed(1)} on ${availableParallelism()} cores`,
      ].join('\n'),
    );
    return undefined;
  },
};
