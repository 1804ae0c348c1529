import type { ReviewQueries } from '../../../monitor/ports/ports.js';

/**
 * When a store last heard of its farm, ms; undefined where it never did. Forecasts tell it at less cost than going through readings,
 * which a farm without trays has alone.
 */
export async function newestKeptMs(queries: ReviewQueries): Promise<number | undefined> {
  const forecasts = await queries.latestForecasts();
  const instants =
    forecasts.length > 0
      ? forecasts.map(({ at }) => Date.parse(at))
      : (await queries.probes()).map(({ lastAtMs }) => lastAtMs);
  return instants.length === 0 ? undefined : Math.max(...instants);
}
