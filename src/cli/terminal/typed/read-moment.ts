import { DateTime, Duration } from 'luxon';
import { toInstant } from '../../../../shared/base/ids.js';
import { BadWord } from './bad-word.js';
import { daysMeant } from './day-words.js';

/** A time of day, and the words for its day before it: "18:00", "Thu 18:00", "mañana a las 7:00". */
const CLOCK = /^(?:(.+?)[\s,]+)?([01]?\d|2[0-3]):([0-5]\d)$/;
/** Words between a day and its hour. */
const BEFORE_CLOCK = /\b(?:at|(?:a\s+)?las?)\s+(?=\d)/i;
const SPAN = /^(\d+(?:\.\d+)?)\s*(min|m|h|d)(?:\s+ago)?$/;
const UNITS = { min: 'minutes', m: 'minutes', h: 'hours', d: 'days' } as const;

export type Side = 'past' | 'future';

/** How long ago, or from now, in ms: "2h", "3 d ago". Undefined when it is no such span. */
export function spanMs(text: string): number | undefined {
  const span = SPAN.exec(text);
  if (span === null) return undefined;
  const unit = UNITS[span[2] as keyof typeof UNITS];
  return Math.round(Duration.fromObject({ [unit]: Number(span[1]) }).toMillis());
}

/** The last of several times that is over, or the first that comes. */
export function nearest(times: readonly DateTime[], side: Side, now: DateTime): DateTime | undefined {
  return side === 'past' ? times.findLast((time) => time <= now) : times.find((time) => time > now);
}

function onClock(text: string, side: Side, now: DateTime): DateTime | undefined {
  const [whole, day, hour, minute] = CLOCK.exec(text.replace(BEFORE_CLOCK, '')) ?? [];
  if (whole === undefined) return undefined;
  const days =
    day === undefined ? [-1, 0, 1].map((by) => now.startOf('day').plus({ days: by })) : daysMeant(day, now);
  return nearest(
    days.map((one) => one.set({ hour: Number(hour), minute: Number(minute) })),
    side,
    now,
  );
}

/**
 * An instant from what people type: "14:30" (the next or the last such time on the farm's clock), "Thu 18:00" or "tomorrow 07:00" as
 * the farm writes times, "2h" or "2h ago", a date and time without offset (the farm's clock), or RFC 3339. Throws BadWord for anything
 * else.
 */
export function readMoment(text: string, side: Side, nowMs: number, timeZone: string): string {
  const now = DateTime.fromMillis(nowMs, { zone: timeZone });
  const length = spanMs(text);
  if (length !== undefined) return toInstant(side === 'future' ? nowMs + length : nowMs - length);
  const given = DateTime.fromISO(text.replace(' ', 'T'), { zone: timeZone });
  if (given.isValid && /^\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}/.test(text)) return toInstant(given.toMillis());
  const time = onClock(text, side, now);
  if (time !== undefined) return toInstant(time.toMillis());
  const example =
    side === 'future'
      ? '"21:00", "tomorrow 07:00", "3h" or "2026-04-18 21:00"'
      : '"14:30", "yesterday 18:00", "2h ago" or "2026-04-18 14:30"';
  throw new BadWord(
    `"${text}" is not a time ${side === 'past' ? 'that is over' : 'to come'}: expected for example ${example}`,
  );
}
