import { accessSync, constants, existsSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import type { FarmConfig } from '../../../shared/config/farm.js';
import { createProbeReader } from '../../board/probe-reader.js';
import { openSerialPort } from '../../board/serial/open-serial-port.js';
import { realClock } from '../real-clock.js';
import { openReview } from './open-review.js';
import { type Tried, tryListen } from './tried.js';
import { tryBroker } from './try-broker.js';

const BOARD_WAIT_MS = 12_000;
const BOARD_LOOK_MS = 200;

const words = (cause: unknown): string => (cause instanceof Error ? cause.message : String(cause));

async function tryStore(config: FarmConfig): Promise<Tried> {
  const folder = resolve(config.store.folder);
  try {
    if (!existsSync(folder)) {
      accessSync(dirname(folder), constants.W_OK);
      return { what: 'store', ok: true, sentence: `${folder} will be made at the first start` };
    }
    accessSync(folder, constants.W_OK);
    if (config.store.influx === undefined && !existsSync(join(folder, 'drybell.db')))
      return { what: 'store', ok: true, sentence: `${folder} is empty and can be written` };
    const review = openReview(config);
    const probes = await review.probes();
    await review.close();
    return {
      what: 'store',
      ok: true,
      sentence: `${config.store.influx?.url ?? folder} answers and knows ${probes.length} probes`,
    };
  } catch (cause) {
    return { what: 'store', ok: false, sentence: `${words(cause)}` };
  }
}

async function tryBoards(config: FarmConfig): Promise<readonly Tried[]> {
  if (config.boards.length === 0)
    return [
      {
        what: 'boards',
        ok: true,
        sentence: 'none configured: forecasts rest on the model and on what you tell',
      },
    ];
  const reader = createProbeReader({
    boards: config.boards,
    probes: config.probes,
    clock: realClock,
    openTransport: openSerialPort,
    random: Math.random,
  });
  try {
    const endMs = realClock.monotonicMs() + BOARD_WAIT_MS;
    while (reader.health().some(({ state }) => state === 'connecting') && realClock.monotonicMs() < endMs)
      await realClock.sleep(BOARD_LOOK_MS);
    const boards = reader.health().map(
      ({ boardId, state, sentence }): Tried => ({
        what: `board ${boardId}`,
        ok: state === 'ready',
        sentence,
      }),
    );
    if (boards.every(({ ok }) => !ok)) return boards;
    const samples = await reader.sample(AbortSignal.timeout(BOARD_WAIT_MS));
    const probes = samples.map(
      ({ probeId, rawValue, reason }): Tried => ({
        what: `probe ${probeId}`,
        ok: rawValue !== undefined,
        sentence:
          rawValue === undefined
            ? `no answer (${reason ?? 'unknown'}); drybell wiring shows how it is connected`
            : `reads ${Number(rawValue.toPrecision(5))}`,
      }),
    );
    return [...boards, ...probes];
  } finally {
    await reader.close();
  }
}

/** Tries everything that a monitor with this configuration would use; changes nothing. */
export async function tryParts(config: FarmConfig): Promise<readonly Tried[]> {
  const page = await tryListen('page', config.page.listenHost, config.page.listenPort, 'page.listenPort');
  return [await tryBroker(config), page, await tryStore(config), ...(await tryBoards(config))];
}
