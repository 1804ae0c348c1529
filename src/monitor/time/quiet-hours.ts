import { DateTime } from 'luxon';
import type { QuietHours } from '../../../shared/config/notices.js';
import { weekdayOf } from './weekday.js';

/** The quiet span that begins on this local day, as instants; one whose end is no later than its begin ends the day after. */
function spanOf(
  hours: QuietHours,
  day: DateTime,
): { readonly fromMs: number; readonly toMs: number } | undefined {
  const name = weekdayOf(day);
  const span = hours.from !== undefined ? hours : name === undefined ? undefined : hours[name];
  if (span === undefined) return undefined;
  const at = (date: DateTime, time: string): number => {
    const [hour, minute] = time.split(':').map(Number);
    return date.set({ hour: hour ?? 0, minute: minute ?? 0, second: 0, millisecond: 0 }).toMillis();
  };
  const endsOn = span.to > span.from ? day : day.plus({ days: 1 });
  return { fromMs: at(day, span.from), toMs: at(endsOn, span.to) };
}

/**
 * When the quiet hours that hold at an instant end, epoch ms; undefined outside them and where there are none. They begin at
 * `from` and are over at `to`, on the farm's clock; where two overlap the later end counts.
 */
export function createQuietHours(
  hours: QuietHours | undefined,
  timeZone: string,
): (atMs: number) => number | undefined {
  if (hours === undefined) return () => undefined;
  return (atMs) => {
    const today = DateTime.fromMillis(atMs, { zone: timeZone }).startOf('day');
    const ends = [today.minus({ days: 1 }), today].flatMap((day) => {
      const span = spanOf(hours, day);
      return span !== undefined && span.fromMs <= atMs && atMs < span.toMs ? [span.toMs] : [];
    });
    return ends.length === 0 ? undefined : Math.max(...ends);
  };
}
