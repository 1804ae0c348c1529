import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pino } from 'pino';
import { type FarmConfig, farmConfigSchema } from '../../shared/config/farm.js';
import { realClock } from '../../src/cli/program/real-clock.js';
import { runHouse } from '../../src/cli/running/run-house.js';
import { createPublisher } from '../../src/messaging/publisher.js';
import type { ProbeReader } from '../../src/monitor/ports/ports.js';
import { openSqliteStore } from '../../src/store/sqlite/open-sqlite-store.js';

/** A house without boards: everything that happens is told by people. */
const noProbes: ProbeReader = {
  sample: async () => [],
  health: () => [],
  showCall: async () => undefined,
  onAcknowledge: () => undefined,
  close: async () => undefined,
};

export interface WholeHouse {
  readonly config: FarmConfig;
  /** Where its store is; whoever opened the house removes it. */
  readonly folder: string;
  readonly page: string;
  /** Address of its broker. */
  readonly broker: string;
  /** Resolves when all is closed. */
  close(): Promise<void>;
}

/** Pipeline, own broker, SQLite and page of a farm with one tray, on this machine's clock. */
export async function openWholeHouse(pageOptions: object = {}, further: object = {}): Promise<WholeHouse> {
  const folder = mkdtempSync(join(tmpdir(), 'drybell-page-'));
  const config = farmConfigSchema.parse({
    farm: 'alder-row',
    timeZone: 'Europe/Berlin',
    benches: [{ id: 'south' }, { id: 'north' }],
    trays: [{ id: 't1', bench: 'south', blockSideMm: 38, blockCount: 72, crop: 'lettuce' }],
    messaging: { listenPort: 0 },
    page: { listenPort: 0, ...pageOptions },
    store: { folder },
    ...further,
  });
  const log = pino({ level: 'silent' });
  const publisher = await createPublisher({
    farm: config.farm,
    config: config.messaging,
    drive: 'live',
    timeZone: config.timeZone,
    dataFolder: folder,
    nowMs: realClock.nowMs,
    log,
  });
  const broker = publisher.address();
  let stop: () => void = () => undefined;
  let running: Promise<void> = Promise.resolve();
  const page = await new Promise<string>((resolve, reject) => {
    running = runHouse({
      config,
      drive: 'live',
      clock: realClock,
      clockSpeed: 1,
      reader: noProbes,
      store: openSqliteStore({ folder, clock: realClock, readingsDays: config.store.readingsDays }),
      publisher,
      log,
      stopped: new Promise((settle) => {
        stop = settle;
      }),
      onReady: (_house, { address }) => resolve(address),
    });
    running.catch(reject);
  });
  return {
    config,
    folder,
    page,
    broker,
    close: async () => {
      stop();
      await running;
    },
  };
}
