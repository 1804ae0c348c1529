import { toInstant } from '../../../../shared/base/ids.js';
import type { CameTrueAnswer } from '../../../../shared/page/page-review.js';
import {
  cameTrue,
  cameTrueByBand,
  type FollowedForecast,
  followForecasts,
} from '../../../drying/curves/came-true.js';
import { type CurveFilter, filterDryDowns } from '../../../drying/curves/curve-filter.js';
import type { DryDownSummary } from '../../../drying/curves/kept-dry-down.js';
import type { ReviewQueries, Span } from '../../../monitor/ports/ports.js';
import type { FarmCalendar } from './farm-calendar.js';

/** How the forecasts told in the finished dry-downs of a span came true. */
export async function cameTrueAnswer(
  queries: ReviewQueries,
  span: Span,
  filter: CurveFilter,
  calendar: FarmCalendar,
): Promise<CameTrueAnswer> {
  const chosen = filterDryDowns(await queries.dryDownSummaries(span), filter, calendar.monthOf);
  const followed: FollowedForecast[] = [];
  for (const [trayId, dryDowns] of byTray(chosen)) {
    const fromMs = Math.min(...dryDowns.map(({ startedAtMs }) => startedAtMs));
    const forecasts = await queries.forecasts(trayId, { fromMs, toMs: span.toMs });
    followed.push(...followForecasts(dryDowns, forecasts));
  }
  return {
    from: toInstant(span.fromMs),
    to: toInstant(span.toMs),
    all: cameTrue(followed),
    bands: cameTrueByBand(followed).map((band) => ({ ...band })),
  };
}

function byTray(dryDowns: readonly DryDownSummary[]): ReadonlyMap<string, readonly DryDownSummary[]> {
  const trays = new Map<string, DryDownSummary[]>();
  for (const one of [...dryDowns].sort((a, b) => a.startedAtMs - b.startedAtMs))
    trays.set(one.trayId, [...(trays.get(one.trayId) ?? []), one]);
  return trays;
}
