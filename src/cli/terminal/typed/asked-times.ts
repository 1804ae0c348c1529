import { InvalidArgumentError } from 'commander';
import { DateTime } from 'luxon';
import { MS_PER_DAY } from '../../../../shared/base/time-units.js';
import type { Span } from '../../../monitor/ports/ports.js';
import { daysMeant } from './day-words.js';
import { nearest, spanMs } from './read-moment.js';

/**
 * A time from the command line: the beginning of a day on the farm's calendar, such as 2026-04-01, "1 Apr" or yesterday; so long ago, such
 * as 7d; or an RFC 3339 instant. Throws InvalidArgumentError.
 */
export function askedTimeMs(option: string, text: string, timeZone: string, nowMs: number): number {
  const time = DateTime.fromISO(text, { zone: timeZone });
  if (time.isValid && /^\d{4}-\d\d-\d\d/.test(text)) return time.toMillis();
  const now = DateTime.fromMillis(nowMs, { zone: timeZone });
  const ago = spanMs(text);
  const atMs = ago === undefined ? nearest(daysMeant(text, now), 'past', now)?.toMillis() : nowMs - ago;
  if (atMs === undefined)
    throw new InvalidArgumentError(
      `${option} "${text}": expected a day such as 2026-04-01, "1 Apr" or yesterday, so long ago such as 7d, or a time such as 2026-04-01T07:00:00Z`,
    );
  return atMs;
}

/**
 * The stretch of time that was asked for; when nothing was said from `usualDays` days before the newest that is known, so that what a
 * store holds of former years is found as well.
 * @param newestMs of what can be asked for; now when absent or later
 */
export function askedSpan(
  asked: { readonly since?: string; readonly until?: string },
  timeZone: string,
  nowMs: number,
  usualDays: number,
  newestMs = nowMs,
): Span {
  const toMs = asked.until === undefined ? nowMs : askedTimeMs('--until', asked.until, timeZone, nowMs);
  const fromMs =
    asked.since === undefined
      ? Math.min(toMs, newestMs) - usualDays * MS_PER_DAY
      : askedTimeMs('--since', asked.since, timeZone, nowMs);
  if (fromMs >= toMs)
    throw new InvalidArgumentError(
      `--since ${asked.since ?? ''} must lie before --until ${asked.until ?? '(now)'}`,
    );
  return { fromMs, toMs };
}
