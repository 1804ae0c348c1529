import { mkdirSync } from 'node:fs';
import type { FarmConfig } from '../../../shared/config/farm.js';
import type { Clock, FactStore, ReviewQueries } from '../../monitor/ports.js';
import { openSqliteStore } from '../../store/sqlite/open-sqlite-store.js';

/** The store that the configuration names: the embedded one in its folder. */
export function openStore(config: FarmConfig, clock: Clock): FactStore & ReviewQueries {
  mkdirSync(config.store.folder, { recursive: true });
  return openSqliteStore({ folder: config.store.folder, clock, readingsDays: config.store.readingsDays });
}
