import { DateTime, Duration } from 'luxon';
import { toInstant } from '../../../../shared/base/ids.js';
import { BadWord } from './bad-word.js';

const CLOCK = /^([01]?\d|2[0-3]):([0-5]\d)$/;
const SPAN = /^(\d+(?:\.\d+)?)\s*(min|m|h|d)(?:\s+ago)?$/;
const UNITS = { min: 'minutes', m: 'minutes', h: 'hours', d: 'days' } as const;

/**
 * An instant from what people type: "14:30" (the next or the last such time on the farm's clock), "2h" or "2h ago",
 * a date and time without offset (the farm's clock), or RFC 3339. Throws BadWord for anything else.
 */
export function readMoment(text: string, side: 'past' | 'future', nowMs: number, timeZone: string): string {
  const now = DateTime.fromMillis(nowMs, { zone: timeZone });
  const clock = CLOCK.exec(text);
  if (clock !== null) {
    const today = now.set({ hour: Number(clock[1]), minute: Number(clock[2]), second: 0, millisecond: 0 });
    if (side === 'future') return toInstant((today > now ? today : today.plus({ days: 1 })).toMillis());
    return toInstant((today <= now ? today : today.minus({ days: 1 })).toMillis());
  }
  const span = SPAN.exec(text);
  if (span !== null) {
    const unit = UNITS[span[2] as keyof typeof UNITS];
    const length = Duration.fromObject({ [unit]: Number(span[1]) }).toMillis();
    return toInstant(Math.round(side === 'future' ? nowMs + length : nowMs - length));
  }
  const given = DateTime.fromISO(text.replace(' ', 'T'), { zone: timeZone });
  if (given.isValid && /^\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}/.test(text)) return toInstant(given.toMillis());
  const example =
    side === 'future' ? '"21:00", "3h" or "2026-04-18 21:00"' : '"14:30", "2h ago" or "2026-04-18 14:30"';
  throw new BadWord(`"${text}" is not a time: expected for example ${example}`);
}
