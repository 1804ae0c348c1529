import type { Command } from 'commander';
import pc from 'picocolors';
import type { FarmConfig } from '../../../shared/config/farm.js';
import { openSerialPort } from '../../board/line/open-serial-port.js';
import { createProbeReader } from '../../board/probe-reader.js';
import { ConfigError, loadConfig } from '../../config/load-config.js';
import { createPublisher } from '../../messaging/publisher.js';
import { findConfig } from '../house/find-config.js';
import { createLog } from '../house/log.js';
import { openStore } from '../house/open-store.js';
import { runHouse } from '../house/run-house.js';
import { stopSignal } from '../house/stop-signal.js';
import { realClock } from '../real-clock.js';
import { liveGreeting } from '../terminal/greeting.js';
import { Narrator } from '../terminal/narrator.js';
import { runDemo } from './demo.js';

const UNUSABLE = 2;
const TABLE_EVERY_H = 6;

async function runLive(config: FarmConfig): Promise<void> {
  const isTerminal = process.stdout.isTTY;
  const log = createLog(isTerminal ? 'warn' : 'info');
  const store = openStore(config, realClock);
  const publisher = await createPublisher({
    farm: config.farm,
    config: config.messaging,
    drive: 'live',
    timeZone: config.timeZone,
    dataFolder: config.store.folder,
    nowMs: realClock.nowMs,
    log,
  });
  const reader = createProbeReader({
    boards: config.boards,
    probes: config.probes,
    clock: realClock,
    openTransport: openSerialPort,
    random: Math.random,
    complain: (board, cause) => log.warn({ board, err: cause }, 'board-trouble'),
  });
  await runHouse({
    config,
    drive: 'live',
    clock: realClock,
    clockSpeed: 1,
    reader,
    store,
    publisher,
    log,
    stopped: stopSignal((signal) => log.info({ signal }, 'stopping')),
    onReady: (house, page) => {
      log.info({ farm: config.farm, broker: publisher.address(), page: page.address }, 'ready');
      if (!isTerminal) return;
      console.log(liveGreeting(config, { broker: publisher.address(), page: page.address }));
      const narrator = new Narrator(config, house.feed, TABLE_EVERY_H);
      house.onFacts((facts) => {
        for (const line of narrator.lines(facts)) console.log(line);
      });
    },
  });
}

/** Runs the farm of the configuration, or the demo when there is none. */
export async function run(options: { readonly config?: string }): Promise<void> {
  const file = findConfig(options.config, process.cwd(), process.env);
  if (file === undefined) {
    console.log(pc.dim('No drybell.jsonc here: this is the demo. Your own farm begins with shared/examples/alder-row.jsonc.'));
    return runDemo();
  }
  let config: FarmConfig;
  try {
    config = loadConfig(file);
  } catch (error) {
    if (!(error instanceof ConfigError)) throw error;
    console.error(error.message);
    process.exitCode = UNUSABLE;
    return;
  }
  await runLive(config);
}

/** `drybell run`, also what happens without a command. */
export function register(program: Command): void {
  program
    .command('run', { isDefault: true })
    .description('Watch the farm of the configuration; without one, run the demo.')
    .option('--config <file>', 'configuration (drybell.jsonc or drybell.json in this folder when absent)')
    .action(run);
}
