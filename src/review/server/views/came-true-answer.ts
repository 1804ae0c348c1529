import { setImmediate } from 'node:timers/promises';
import { toInstant } from '../../../../shared/base/ids.js';
import { MS_PER_DAY } from '../../../../shared/base/time-units.js';
import type { CameTrueAnswer } from '../../../../shared/page/page-review.js';
import { cameTrue, cameTrueByBand, followForecasts } from '../../../drying/curves/came-true.js';
import { type CurveFilter, filterDryDowns } from '../../../drying/curves/curve-filter.js';
import { byTray } from '../../../drying/curves/dry-downs-about.js';
import type { KeptForecast, ReviewQueries, Span } from '../../../monitor/ports/ports.js';
import type { FarmCalendar } from './farm-calendar.js';

/** A year is asked for in pieces, so that readings and calls go between them: one takes some hundredths of a second. */
const AT_ONCE_MS = 14 * MS_PER_DAY;

/** How the forecasts told in the finished dry-downs of a span came true. */
export async function cameTrueAnswer(
  queries: ReviewQueries,
  span: Span,
  filter: CurveFilter,
  calendar: FarmCalendar,
): Promise<CameTrueAnswer> {
  const chosen = filterDryDowns(await queries.dryDownSummaries(span), filter, calendar.monthOf);
  const trays = byTray([...chosen].sort((a, b) => a.startedAtMs - b.startedAtMs));
  const told = new Map([...trays.keys()].map((trayId) => [trayId, [] as KeptForecast[]]));
  const fromMs = Math.min(...chosen.map(({ startedAtMs }) => startedAtMs));
  for (let atMs = fromMs; atMs < span.toMs; atMs += AT_ONCE_MS) {
    const some = { fromMs: atMs, toMs: Math.min(atMs + AT_ONCE_MS, span.toMs) };
    for (const one of await queries.forecasts(undefined, some)) told.get(one.trayId)?.push(one);
    await setImmediate();
  }
  const followed = [...trays].flatMap(([trayId, dryDowns]) =>
    followForecasts(dryDowns, told.get(trayId) ?? []),
  );
  return {
    from: toInstant(span.fromMs),
    to: toInstant(span.toMs),
    all: cameTrue(followed),
    bands: cameTrueByBand(followed).map((band) => ({ ...band })),
  };
}
