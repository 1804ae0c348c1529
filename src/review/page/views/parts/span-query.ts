import { MS_PER_DAY } from '../../../../../shared/base/time-units.js';

/** A span of time as the views keep it: days back from now, or two days of the calendar. */
export type ChosenSpan = { readonly days: number } | { readonly fromDay: string; readonly toDay: string };

/** The span as a request's `from` and `to`. Days of the calendar are taken as UTC midnights plus a day at each end. */
export function spanQuery(span: ChosenSpan, nowMs: number): string {
  const ends =
    'days' in span
      ? { fromMs: nowMs - span.days * MS_PER_DAY, toMs: nowMs }
      : { fromMs: Date.parse(span.fromDay), toMs: Date.parse(span.toDay) + MS_PER_DAY };
  return new URLSearchParams({
    from: new Date(ends.fromMs).toISOString(),
    to: new Date(ends.toMs).toISOString(),
  }).toString();
}
