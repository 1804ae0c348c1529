import { InvalidArgumentError } from 'commander';
import { DateTime } from 'luxon';
import { MS_PER_DAY } from '../../../../shared/base/time-units.js';
import type { Span } from '../../../monitor/ports/ports.js';

/**
 * A time from the command line: a day on the farm's calendar such as 2026-04-01 (its beginning), or an RFC 3339 instant.
 * Throws InvalidArgumentError.
 */
export function askedTimeMs(option: string, text: string, timeZone: string): number {
  const time = DateTime.fromISO(text, { zone: timeZone });
  if (!time.isValid || !/^\d{4}-\d\d-\d\d/.test(text))
    throw new InvalidArgumentError(
      `${option} "${text}": expected a day such as 2026-04-01 or a time such as 2026-04-01T07:00:00Z`,
    );
  return time.toMillis();
}

/** The stretch of time that was asked for; the last `usualDays` days when nothing was said. */
export function askedSpan(
  asked: { readonly since?: string; readonly until?: string },
  timeZone: string,
  nowMs: number,
  usualDays: number,
): Span {
  const toMs = asked.until === undefined ? nowMs : askedTimeMs('--until', asked.until, timeZone);
  const fromMs =
    asked.since === undefined ? toMs - usualDays * MS_PER_DAY : askedTimeMs('--since', asked.since, timeZone);
  if (fromMs >= toMs)
    throw new InvalidArgumentError(
      `--since ${asked.since ?? ''} must lie before --until ${asked.until ?? '(now)'}`,
    );
  return { fromMs, toMs };
}
