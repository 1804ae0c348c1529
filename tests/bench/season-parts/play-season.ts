import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type FarmConfig, farmConfigSchema } from '../../../shared/config/farm.js';
import { realClock } from '../../../src/cli/program/real-clock.js';
import { openHouse } from '../../../src/cli/running/house-parts/house.js';
import { createPublisher } from '../../../src/messaging/publisher.js';
import type { Fact } from '../../../src/monitor/ports/facts.js';
import type { Clock, ProbeReader } from '../../../src/monitor/ports/ports.js';
import { startPage } from '../../../src/review/start-page.js';
import { openSqliteStore } from '../../../src/store/sqlite/open-sqlite-store.js';
import { channelsHoldMl } from '../../../src/watering/rounds/pour-plan.js';
import { createDemoGrower } from '../../../src/worlds/demo/demo-grower.js';
import {
  createVirtualBench,
  type VirtualBench,
} from '../../../src/worlds/demo/virtual-bench/virtual-bench.js';
import { drawScene } from '../../benchmark/record-scenario.js';
import { RECIPES } from '../../benchmark/scenario-recipes.js';
import { ComingAndGoing } from './coming-and-going.js';
import { countNight, type Night } from './count-night.js';
import { listeningPhone } from './phone.js';
import { TrueDryDowns } from './true-dry-downs.js';

const DAY_MS = 86_400_000;
const LAST_DAYS = 30;
const PROBED_SHARE = 0.5;
const SIZES = [
  [19, 280],
  [38, 72],
  [51, 48],
] as const;
/** How long the farm's clock waits, in this machine's time, for the phone to have heard what was told. */
const PHONE_PATIENCE_MS = 60_000;

export interface SeasonOptions {
  readonly days: number;
  readonly trayCount: number;
  readonly cadenceS: number;
  readonly seed: number;
  /** Everything is counted every so many nights: looking through the whole heap takes seconds. */
  readonly everyNights: number;
  readonly onNight?: (night: Night) => void;
}

export interface Season {
  readonly nights: readonly Night[];
  readonly readingCount: number;
  /** Readings that were told and that a phone, listening all the time, never heard. */
  readonly unheardCount: number;
  readonly cameCount: number;
  readonly callCount: number;
  readonly waterCount: number;
  /** What the log of the messaging warned of. */
  readonly warnings: readonly string[];
  readonly cameTrue: Awaited<ReturnType<TrueDryDowns['cameTrue']>>;
}

/** A farm of so many trays in March, half of them with a probe, and the virtual bench that it stands on. */
function drawFarm({ days, trayCount, cadenceS, seed }: SeasonOptions) {
  const base = RECIPES.find(({ kind }) => kind === 'spring-mixed');
  if (base === undefined) throw new RangeError('there is no recipe "spring-mixed"');
  const trays = Array.from({ length: trayCount }, (_, index) => SIZES[index % SIZES.length] ?? SIZES[0]);
  const probed = Math.round(trayCount * PROBED_SHARE);
  const scene = drawScene({ ...base, month: 2, days, cadenceS, trays, probed }, seed);
  const config = farmConfigSchema.parse({ ...scene.config, messaging: { listenPort: 0 } });
  return { ...scene, config, bench: createVirtualBench(scene.plan) };
}

function benchReader(config: FarmConfig, bench: VirtualBench, nowMs: () => number): ProbeReader {
  return {
    sample: () => {
      bench.step(nowMs());
      return Promise.resolve(
        config.probes.map(({ id }) => ({
          probeId: id,
          observedAtMs: nowMs(),
          rawValue: bench.readProbe(id),
        })),
      );
    },
    health: () => [],
    showCall: () => Promise.resolve(),
    onAcknowledge: () => undefined,
    close: () => Promise.resolve(),
  };
}

/** Somebody's page, open all season: takes what comes and keeps nothing. */
async function openTab(address: string): Promise<() => void> {
  const leave = new AbortController();
  const response = await fetch(new URL('api/live', address), { signal: leave.signal });
  response.body?.pipeTo(new WritableStream()).catch((cause: unknown) => {
    if (!leave.signal.aborted) throw cause;
  });
  return () => leave.abort();
}

/**
 * Plays the season. The farm's clock goes on when all of a turn is done and the phone has heard its readings, so that the loop is never
 * behind: a loop that never rests would starve the own broker, which hands on one message a turn of the loop.
 */
export async function playSeason(options: SeasonOptions): Promise<Season> {
  const { config, bench, startMs, endMs } = drawFarm(options);
  const truth = new TrueDryDowns(bench);
  const sown = new ComingAndGoing(startMs);
  const holdsMl = new Map(config.trays.map((tray) => [tray.id, channelsHoldMl(tray)]));
  const grower = createDemoGrower({
    bench,
    lateOnce: false,
    mostPourMl: (trayId) => config.notices.mostPoursPerRound * (holdsMl.get(trayId) ?? 0),
  });
  const folder = mkdtempSync(join(tmpdir(), 'drybell-season-'));
  const nights: Night[] = [];
  const warnings: string[] = [];
  const warn = (fields: object, event: string) => void warnings.push(`${event} ${JSON.stringify(fields)}`);
  let nowMs = startMs;
  let readingCount = 0;
  let callCount = 0;
  let waterCount = 0;
  let unheardCount = 0;
  let betweenTurns: () => Promise<void> = () => Promise.resolve();
  const clock: Clock = {
    nowMs: () => nowMs,
    monotonicMs: () => nowMs - startMs,
    sleep: async (ms, signal) => {
      await betweenTurns();
      const day = Math.floor((nowMs + ms - startMs) / DAY_MS);
      if (day >= (nights.at(-1)?.day ?? 0) + options.everyNights) {
        const night = countNight(folder, day);
        nights.push(night);
        options.onNight?.(night);
      }
      nowMs += ms;
      await realClock.sleep(0, signal);
    },
  };
  // the store's own timers run in real time: only the monitor's sleep moves the farm's clock on
  const store = openSqliteStore({ folder, clock: { ...clock, sleep: realClock.sleep } });
  const publisher = await createPublisher({
    farm: config.farm,
    config: config.messaging,
    drive: 'live',
    timeZone: config.timeZone,
    dataFolder: folder,
    nowMs: clock.nowMs,
    wallNowMs: clock.nowMs,
    log: { debug: () => undefined, info: () => undefined, warn, error: warn },
  });
  const phone = await listeningPhone(publisher.address(), config.farm);
  const reader = benchReader(config, bench, clock.nowMs);
  const house = await openHouse({ config, drive: 'live', clock, clockSpeed: 1, reader, store, publisher });
  const page = await startPage({
    config,
    queries: store,
    live: house.feed,
    listenHost: '127.0.0.1',
    listenPort: 0,
  });
  const closeTab = await openTab(page.address);
  house.onFacts((facts: readonly Fact[]) => {
    for (const { kind } of facts) {
      if (kind === 'reading') readingCount += 1;
      if (kind === 'call') callCount += 1;
      if (kind === 'watering') waterCount += 1;
    }
    grower.hear(facts);
    sown.hear(facts);
  });
  const phoneHeardAll = async () => {
    const fromMs = performance.now();
    while (phone.readingCount() + unheardCount < readingCount) {
      if (performance.now() - fromMs > PHONE_PATIENCE_MS) unheardCount = readingCount - phone.readingCount();
      await realClock.sleep(0);
    }
  };
  let seasonOver: () => void = () => undefined;
  const over = new Promise<void>((resolve) => {
    seasonOver = resolve;
  });
  betweenTurns = async () => {
    await phoneHeardAll();
    truth.look(nowMs);
    for (const command of [...grower.work(nowMs), ...sown.work(nowMs)]) {
      if (command.do === 'watered' && command.tray !== undefined) truth.poured(command.tray, nowMs);
      // later, when the loop sleeps: a command waits for its turn
      void house.feed.command(command);
    }
    await realClock.sleep(0);
    if (nowMs >= endMs) seasonOver();
  };
  try {
    await Promise.race([house.monitor.start().finished, over]);
    await house.monitor.close();
    const last = { fromMs: Math.max(startMs, endMs - LAST_DAYS * DAY_MS), toMs: endMs };
    const cameTrue = await truth.cameTrue(store, last);
    const { cameCount } = sown;
    return { nights, readingCount, unheardCount, cameCount, callCount, waterCount, warnings, cameTrue };
  } finally {
    closeTab();
    await page.close();
    await phone.close();
    await publisher.close();
    await store.close();
    rmSync(folder, { recursive: true, force: true });
  }
}
