import type { ReviewQueries, Span } from '../../../monitor/ports/ports.js';
import { realClock } from '../../program/real-clock.js';
import { askedSpan } from '../../terminal/typed/asked-times.js';

/** A year, and the day that a leap year has more. */
const USUAL_DAYS = 366;

/** The stretch of a store that was asked for; when nothing was said the year before the newest that it holds. Throws InvalidArgumentError. */
export async function keptSpan(
  asked: { readonly since?: string; readonly until?: string },
  timeZone: string,
  queries: ReviewQueries,
): Promise<Span> {
  return askedSpan(asked, timeZone, realClock.nowMs(), USUAL_DAYS, await newestKeptMs(queries));
}

/**
 * When a store last heard of its farm, ms; undefined where it never did. Forecasts tell it at less cost than going through readings,
 * which a farm without trays has alone.
 */
async function newestKeptMs(queries: ReviewQueries): Promise<number | undefined> {
  const forecasts = await queries.latestForecasts();
  const instants =
    forecasts.length > 0
      ? forecasts.map(({ at }) => Date.parse(at))
      : (await queries.probes()).map(({ lastAtMs }) => lastAtMs);
  return instants.length === 0 ? undefined : Math.max(...instants);
}
