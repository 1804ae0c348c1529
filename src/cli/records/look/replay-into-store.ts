import { existsSync, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { FarmConfig } from '../../../../shared/config/farm.js';
import { StoreError } from '../../../store/both/store-error.js';
import { openSqliteStore } from '../../../store/sqlite/open-sqlite-store.js';
import type { ReplaySummary } from '../../../worlds/replay/results.js';
import { type ReplayInput, runReplay } from '../../../worlds/replay/run-replay.js';
import { realClock } from '../../program/real-clock.js';
import { createFarmParts, type FarmParts } from '../../running/house-parts/farm-parts.js';

/** A recording may be of any year: a century of readings stays. */
const KEEP_DAYS = 36_525;

/**
 * Replays a recording and fills a store beside the results, readings and states included, so that curves, review, export and
 * journal work on it as on one that a monitor kept. Throws StoreError `in-use` where the folder holds a store already.
 * @param storeFolder made when it is not there
 */
export async function replayIntoStore(
  input: Omit<ReplayInput, 'createPipeline' | 'keep' | 'config'> & { readonly config: FarmConfig },
  storeFolder: string,
): Promise<ReplaySummary> {
  if (existsSync(join(storeFolder, 'drybell.db')))
    throw new StoreError(
      'in-use',
      `"${storeFolder}" holds a store already; name a new folder, so that nothing is mixed into it.`,
    );
  mkdirSync(storeFolder, { recursive: true });
  const store = openSqliteStore({ folder: storeFolder, clock: realClock, readingsDays: KEEP_DAYS });
  let parts: FarmParts | undefined;
  try {
    const summary = await runReplay({
      ...input,
      createPipeline: (startMs) => {
        parts = createFarmParts(input.config, { startMs, drive: 'replay', keepReadings: true });
        return parts.pipeline;
      },
      keep: async (facts) => void (await store.keep(facts)),
    });
    if (parts !== undefined) {
      await store.saveState('desk', parts.desk.snapshot());
      await store.saveState('model', parts.model.snapshot());
    }
    await store.flush();
    return summary;
  } finally {
    await store.close();
  }
}
