import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createProbeReader } from '../../board/station/probe-reader.js';
import { createPublisher } from '../../messaging/publisher.js';
import type { ProbeReader } from '../../monitor/ports/ports.js';
import { openSqliteStore } from '../../store/sqlite/open-sqlite-store.js';
import {
  DEMO_PAST_MS,
  DEMO_SPEED,
  DEMO_START_MS,
  demoFarmConfig,
  demoFarmPlan,
} from '../../worlds/demo/demo-farm.js';
import { createDemoGrower, letGrowerWork } from '../../worlds/demo/demo-grower.js';
import { createFastClock } from '../../worlds/demo/fast-clock.js';
import { virtualBoardOpener } from '../../worlds/demo/open-virtual-board.js';
import { createVirtualBench } from '../../worlds/demo/virtual-bench/virtual-bench.js';
import { createLog } from '../program/log.js';
import { realClock } from '../program/real-clock.js';
import { stopSignal } from '../program/stop-signal.js';
import { demoGreeting } from '../terminal/greeting.js';
import { Narrator } from '../terminal/narrator.js';
import { rememberPast } from './house-parts/remember-past.js';
import { runHouse } from './run-house.js';

/** Hours of the farm's clock between two tables of all trays. */
const TABLE_EVERY_H = 3;

const CONNECT_LOOK_MS = 20;
const CONNECT_AT_MOST_MS = 5000;

/** Boards connect in real time, which would be an hour of the farm's: its clock waits for them. */
async function boardsReady(reader: ProbeReader): Promise<void> {
  const fromMs = realClock.monotonicMs();
  while (
    reader.health().some(({ state }) => state !== 'ready') &&
    realClock.monotonicMs() - fromMs < CONNECT_AT_MOST_MS
  )
    await realClock.sleep(CONNECT_LOOK_MS);
}

/** The invented farm on a fast clock; everything between the virtual bench and the terminal is the real thing. Its store goes with it. */
export async function runDemo(): Promise<void> {
  const log = createLog('warn');
  const plan = demoFarmPlan(DEMO_START_MS - DEMO_PAST_MS);
  const config = demoFarmConfig(plan);
  const bench = createVirtualBench(plan);
  const folder = mkdtempSync(join(tmpdir(), 'drybell-demo-'));
  const past = openSqliteStore({ folder, clock: realClock });
  await rememberPast(config, bench, past);
  await past.close();
  const clock = createFastClock({ startMs: DEMO_START_MS, speed: DEMO_SPEED });
  const store = openSqliteStore({ folder, clock });
  const publisher = await createPublisher({
    farm: config.farm,
    config: { ...config.messaging, listenPort: 0 },
    drive: 'demo',
    timeZone: config.timeZone,
    units: config.units,
    language: config.language,
    shelf: store,
    nowMs: () => clock.nowMs(),
    log,
  });
  const reader = createProbeReader({
    boards: config.boards,
    probes: config.probes,
    clock,
    openTransport: virtualBoardOpener(bench, config.probes, () => clock.nowMs()),
    random: Math.random,
  });
  await boardsReady(reader);
  clock.begin();
  const ending = new AbortController();
  const stopped = stopSignal(() => {
    ending.abort();
    console.log('\nEnding the demo ...');
  });
  const grower = createDemoGrower({ bench, lateOnce: true });
  let working: Promise<void> = Promise.resolve();
  await runHouse({
    config: { ...config, page: { ...config.page, listenPort: 0 } },
    drive: 'demo',
    clock,
    clockSpeed: DEMO_SPEED,
    reader,
    store,
    publisher,
    log,
    stopped,
    onReady: (house, page) => {
      console.log(
        demoGreeting(config, {
          speed: DEMO_SPEED,
          startMs: DEMO_START_MS,
          broker: publisher.address(),
          page: page.address,
        }),
      );
      const narrator = new Narrator(config, house.feed, TABLE_EVERY_H);
      house.onFacts((facts) => {
        for (const line of narrator.lines(facts)) console.log(line);
        grower.hear(facts);
      });
      working = letGrowerWork(
        grower,
        clock,
        async (command) => void (await house.feed.command(command)),
        ending.signal,
      );
    },
  });
  ending.abort();
  await working;
  rmSync(folder, { recursive: true, force: true });
}
