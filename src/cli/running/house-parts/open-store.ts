import type { FarmConfig } from '../../../../shared/config/farm.js';
import type { Clock, FactStore, ReviewQueries } from '../../../monitor/ports/ports.js';
import { openSqliteStore } from '../../../store/sqlite/open-sqlite-store.js';

/** The store that the configuration names: the embedded one in its folder, with history in InfluxDB when that is named. */
export async function openStore(config: FarmConfig, clock: Clock): Promise<FactStore & ReviewQueries> {
  const { folder, readingsDays, influx } = config.store;
  if (influx === undefined) return openSqliteStore({ folder, clock, readingsDays, onDamage: 'set-aside' });
  const { openInfluxStore } = await import('../../../store/influx/open-influx-store.js');
  return openInfluxStore({
    folder,
    farm: config.farm,
    influx,
    clock,
    onDamage: 'set-aside',
    random: Math.random,
  });
}
