import { existsSync, rmSync, statfsSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import type { FarmConfig } from '../../../../shared/config/farm.js';
import { isDeliveredProbe } from '../../../board/delivered/delivered-reader.js';
import { boardWords } from '../../../board/station/board-health.js';
import { fileTrouble, isFileTrouble } from '../../../host/disk/file-trouble.js';
import { addressOf } from '../../asking/reach-monitor.js';
import { type Tried, tryPage } from '../../config/tried.js';
import { createLog } from '../../program/log.js';
import { realClock } from '../../program/real-clock.js';
import { openProbes } from '../../running/house-parts/open-probes.js';
import { openReview } from '../../running/house-parts/open-review.js';
import { clockFacts } from '../starting/clock-facts.js';
import { clockTrust } from '../starting/clock-trust.js';
import { findRunningMonitor, type RunningMonitor } from './running-monitor.js';
import { tryBroker } from './try-broker.js';

const BOARD_WAIT_MS = 12_000;
const BOARD_LOOK_MS = 200;

const BYTES_PER_MB = 1e6;

const words = (cause: unknown): string => (cause instanceof Error ? cause.message : String(cause));

/** Free room that a season's readings of a small farm want (judgement). */
const LEAST_FREE_BYTES = 200e6;

/** Writes and takes away a file, as the store will. Throws where it could not. */
function writeSomething(folder: string): void {
  const file = join(folder, `.drybell-check-${process.pid}`);
  writeFileSync(file, '');
  rmSync(file);
}

async function tryStore(config: FarmConfig): Promise<Tried> {
  const folder = resolve(config.store.folder);
  const said = { what: 'store', path: ['store', 'folder'] };
  try {
    const isThere = existsSync(folder);
    const present = isThere ? folder : dirname(folder);
    writeSomething(present);
    const { bavail, bsize } = statfsSync(present);
    if (bavail * bsize < LEAST_FREE_BYTES)
      return {
        ...said,
        ok: false,
        sentence: `${folder} has ${Math.floor((bavail * bsize) / BYTES_PER_MB)} MB left, and readings need ${LEAST_FREE_BYTES / BYTES_PER_MB}; make room, or give another store.folder`,
      };
    if (!isThere) return { ...said, ok: true, sentence: `${folder} will be made at the first start` };
    if (config.store.influx === undefined && !existsSync(join(folder, 'drybell.db')))
      return { ...said, ok: true, sentence: `${folder} is empty and can be written` };
    const review = openReview(config);
    const probes = await review.probes();
    await review.close();
    return {
      ...said,
      ok: true,
      sentence: `${config.store.influx?.url ?? folder} answers and knows ${probes.length} probes`,
    };
  } catch (cause) {
    return {
      ...said,
      ok: false,
      sentence: `${isFileTrouble(cause) ? fileTrouble(cause) : words(cause)}; the store is to be in ${folder}: mend its permissions, or give another store.folder`,
    };
  }
}

/** The kernel and the programs on this machine know whether its time is right. */
async function tryClock(config: FarmConfig): Promise<Tried> {
  const witnesses = [process.argv[1] ?? '', resolve(config.store.folder)];
  const trust = clockTrust(await clockFacts(realClock.nowMs(), witnesses));
  return { what: 'clock', ok: trust.kind === 'trusted', sentence: trust.because };
}

/** A board or probe by its name, and where the configuration has it. */
function placed(config: FarmConfig, kind: 'board' | 'probe', id: string): Pick<Tried, 'what' | 'path'> {
  const list = kind === 'board' ? 'boards' : 'probes';
  return { what: `${kind} ${id}`, path: [list, config[list].findIndex((one) => one.id === id)] };
}

async function tryBoards(config: FarmConfig, running: RunningMonitor | undefined): Promise<readonly Tried[]> {
  const delivered = config.probes.filter(isDeliveredProbe);
  if (config.boards.length === 0 && delivered.length === 0)
    return [
      {
        what: 'boards',
        ok: true,
        sentence: 'none configured: forecasts rest on the model and on what you tell',
      },
    ];
  if (running !== undefined) return askedOfMonitor(config, running);
  const reader = openProbes({
    config,
    clock: realClock,
    brokerAddress: addressOf(config),
    asWhom: 'check',
    log: createLog('silent'),
  });
  try {
    const endMs = realClock.monotonicMs() + BOARD_WAIT_MS;
    while (reader.health().some(({ state }) => state === 'connecting') && realClock.monotonicMs() < endMs)
      await realClock.sleep(BOARD_LOOK_MS);
    const boards = reader.health().map(
      (board): Tried => ({
        ...placed(config, 'board', board.boardId),
        ok: board.state === 'ready',
        sentence: boardWords(board, config.language),
      }),
    );
    const waited = delivered.map(
      ({ id, hookup }): Tried => ({
        ...placed(config, 'probe', id),
        ok: true,
        sentence: `is delivered; not waited for (up to ${hookup.staleAfterS} s): drybell probes --watch shows it come`,
      }),
    );
    if (boards.every(({ ok }) => !ok)) return [...boards, ...waited];
    const deliveredIds = new Set(delivered.map(({ id }) => id));
    const samples = await reader.sample(AbortSignal.timeout(BOARD_WAIT_MS));
    const read = samples.filter(({ probeId }) => !deliveredIds.has(probeId));
    const probes = read.map(
      ({ probeId, rawValue, reason }): Tried => ({
        ...placed(config, 'probe', probeId),
        ok: rawValue !== undefined,
        sentence:
          rawValue === undefined
            ? `no answer (${reason ?? 'unknown'}); drybell wiring shows how it is connected`
            : `reads ${Number(rawValue.toPrecision(5))}`,
      }),
    );
    return [...boards, ...probes, ...waited];
  } finally {
    await reader.close();
  }
}

/** Boards and probes are in the hands of the monitor that runs: it says which of them are out of order; just started, it does not know yet. */
function askedOfMonitor(config: FarmConfig, { standing }: RunningMonitor): readonly Tried[] {
  const asked = (kind: 'board' | 'probe', id: string): Tried => {
    const alarm = standing.find((one) => one.kind === kind && one.source === id);
    return {
      ...placed(config, kind, id),
      ok: alarm === undefined,
      sentence: alarm?.sentence ?? 'the running monitor has no complaint about it',
    };
  };
  return [
    ...config.boards.map(({ id }) => asked('board', id)),
    ...config.probes.filter(({ hookup }) => hookup !== undefined).map(({ id }) => asked('probe', id)),
  ];
}

/** Tries everything that a monitor with this configuration would use, beside one that runs already; changes nothing. */
export async function tryParts(config: FarmConfig): Promise<readonly Tried[]> {
  const running = await findRunningMonitor(config);
  return [
    await tryBroker(config, running?.address),
    await tryPage(config.page, running !== undefined),
    await tryStore(config),
    await tryClock(config),
    ...(await tryBoards(config, running)),
  ];
}
