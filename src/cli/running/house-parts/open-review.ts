import type { FarmConfig } from '../../../../shared/config/farm.js';
import type { ReviewQueries } from '../../../monitor/ports/ports.js';
import { openInfluxReview } from '../../../store/influx/influx-review.js';
import { openSqliteReview } from '../../../store/sqlite/open-sqlite-review.js';

export interface OpenReview extends ReviewQueries {
  close(): Promise<void>;
}

/**
 * The farm's history for questions only, beside a running monitor or without one: InfluxDB when the configuration names it
 * (all monitors of the farm together), else the embedded store.
 */
export function openReview(config: FarmConfig): OpenReview {
  const { influx, folder } = config.store;
  if (influx !== undefined) return openInfluxReview({ server: influx, farm: config.farm });
  return openSqliteReview({ folder });
}
