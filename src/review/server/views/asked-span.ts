import { instantSchema } from '../../../../shared/base/ids.js';
import { MS_PER_DAY } from '../../../../shared/base/time-units.js';
import type { Span } from '../../../monitor/ports/ports.js';
import { Refusal } from '../http/respond.js';

/** Nobody's season is longer; a typing error often is. */
const LONGEST_SPAN_DAYS = 10 * 366;

/** The span of a request's `from` and `to`; what is absent ends now, or begins `usualDays` before the end. */
export function askedSpan(query: URLSearchParams, nowMs: number, usualDays: number): Span {
  const toMs = askedInstant(query, 'to') ?? nowMs + 1;
  const fromMs = askedInstant(query, 'from') ?? toMs - usualDays * MS_PER_DAY;
  if (fromMs >= toMs)
    throw new Refusal(
      400,
      'span-backwards',
      `"from" (${new Date(fromMs).toISOString()}) must lie before "to" (${new Date(toMs).toISOString()}).`,
    );
  if (toMs - fromMs > LONGEST_SPAN_DAYS * MS_PER_DAY)
    throw new Refusal(400, 'span-too-long', 'That is more than ten years; ask for a shorter span.');
  return { fromMs, toMs };
}

/** The instant of a request; undefined when it names none. */
export function askedInstant(query: URLSearchParams, name: string): number | undefined {
  const text = query.get(name);
  if (text === null) return undefined;
  if (!instantSchema.safeParse(text).success)
    throw new Refusal(
      400,
      'not-a-time',
      `"${name}" is "${text.slice(0, 60)}"; expected an RFC 3339 time such as 2026-04-18T07:00:00Z.`,
    );
  return Date.parse(text);
}

/** A whole number within bounds, or the usual one when it is absent. */
export function askedCount(query: URLSearchParams, name: string, usual: number, most: number): number {
  const text = query.get(name);
  if (text === null) return usual;
  const count = Number(text);
  if (!Number.isInteger(count) || count < 1 || count > most)
    throw new Refusal(400, 'not-a-count', `"${name}" is "${text.slice(0, 60)}"; expected 1 to ${most}.`);
  return count;
}
