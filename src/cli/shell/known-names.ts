import type { FarmConfig } from '../../../shared/config/farm.js';
import { coverSchema } from '../../../shared/config/trays.js';
import { openSqliteReview } from '../../store/sqlite/open-sqlite-review.js';
import { findConfig } from '../config/find-config.js';
import { loadConfig } from '../config/load-config.js';

/** Trays without a forecast for this long, as against the newest one, have left the house. */
const GONE_AFTER_MS = 86_400_000;

/** Names of a farm that may be typed where a word or an option of this name stands. */
export type KnownNames = Readonly<Record<string, readonly string[]>>;

/** Trays that stand, by what the store forecasts; those of the configuration where it forecasts none. */
async function standingTrays(config: FarmConfig): Promise<readonly string[]> {
  // the newest forecasts are on the board whatever the history goes to
  const review = openSqliteReview({ folder: config.store.folder });
  try {
    const forecasts = await review.latestForecasts();
    const newestMs = Math.max(...forecasts.map(({ at }) => Date.parse(at)));
    const standing = forecasts.filter(({ at }) => Date.parse(at) > newestMs - GONE_AFTER_MS);
    if (standing.length > 0) return standing.map(({ tray }) => tray);
  } finally {
    await review.close();
  }
  return config.trays.map(({ id }) => id);
}

/** The farm's names from its configuration and store; none where there is no configuration. Never fails: it only helps. */
export async function knownNames(): Promise<KnownNames> {
  const file = findConfig(undefined, process.cwd(), process.env);
  if (file === undefined) return {};
  try {
    const config = loadConfig(file);
    const trays = await standingTrays(config).catch(() => config.trays.map(({ id }) => id));
    const benches = config.benches.map(({ id }) => id);
    const crops = [...new Set(config.trays.flatMap(({ crop }) => crop ?? []))];
    const sizes = [...new Set(config.trays.map(({ blockSideMm }) => String(blockSideMm)))];
    const probes = config.probes.map(({ id }) => id);
    const which = [...trays, ...benches, ...crops, ...sizes];
    return {
      tray: trays,
      which,
      except: which,
      of: [...trays, ...benches, ...probes],
      bench: benches,
      crop: crops,
      side: sizes,
      probe: probes,
      board: config.boards.map(({ id }) => id),
      cover: coverSchema.options,
    };
  } catch (cause) {
    // a key pressed in the shell is no place for a complaint; the command itself says what is wrong
    if (cause instanceof Error) return {};
    throw cause;
  }
}
