import { mkdirSync } from 'node:fs';
import type { FarmConfig } from '../../../shared/config/farm.js';
import type { Clock, FactStore, ReviewQueries } from '../../monitor/ports.js';
import { openInfluxStore } from '../../store/influx/open-influx-store.js';
import { openSqliteStore } from '../../store/sqlite/open-sqlite-store.js';

/**
 * The store that the configuration names: InfluxDB behind a spool in the folder when it is given, else the embedded one. A
 * damaged file is set aside, since a watchman that does not start is worse than one without its old readings.
 */
export function openStore(config: FarmConfig, clock: Clock): FactStore & ReviewQueries {
  mkdirSync(config.store.folder, { recursive: true });
  const { influx, folder } = config.store;
  if (influx !== undefined)
    return openInfluxStore({
      folder,
      farm: config.farm,
      influx,
      clock,
      random: Math.random,
      onDamage: 'set-aside',
    });
  return openSqliteStore({ folder, clock, readingsDays: config.store.readingsDays, onDamage: 'set-aside' });
}
