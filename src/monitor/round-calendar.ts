import { DateTime } from 'luxon';
import type { Rounds } from '../../shared/config/notices.js';
import type { RoundCalendar } from '../watering/round-calendar.js';

const weekdayNames = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;
const FORTNIGHT_DAYS = 14;
const MS_PER_DAY = 86_400_000;

function timesOn(rounds: Rounds, day: DateTime): readonly string[] {
  if (Array.isArray(rounds)) return rounds;
  const name = weekdayNames[day.weekday - 1];
  return (name === undefined ? undefined : rounds[name]) ?? [];
}

/**
 * Rounds of one local day as instants, ascending. On the day the clock springs forward a round inside the lost hour
 * moves past it; on the day it falls back the first of the two instants counts (luxon's resolution).
 */
function roundsOfDay(rounds: Rounds, day: DateTime): number[] {
  const instants = timesOn(rounds, day).map((time) => {
    const [hour, minute] = time.split(':').map(Number);
    return day.set({ hour: hour ?? 0, minute: minute ?? 0, second: 0, millisecond: 0 }).toMillis();
  });
  return [...new Set(instants)].sort((a, b) => a - b);
}

/** The farm's rounds on its own clock, worked out day by day and remembered. */
export function createRoundCalendar(rounds: Rounds, timeZone: string): RoundCalendar {
  const byDay = new Map<string, readonly number[]>();

  function onDay(day: DateTime): readonly number[] {
    const key = day.toISODate() ?? '';
    const known = byDay.get(key);
    if (known !== undefined) return known;
    if (byDay.size > 64) byDay.clear();
    const instants = roundsOfDay(rounds, day.startOf('day'));
    byDay.set(key, instants);
    return instants;
  }

  return {
    after(atMs, count) {
      const found: number[] = [];
      let day = DateTime.fromMillis(atMs, { zone: timeZone });
      for (let days = 0; days <= FORTNIGHT_DAYS && found.length < count; days++) {
        for (const instant of onDay(day)) if (instant > atMs && found.length < count) found.push(instant);
        day = day.plus({ days: 1 });
      }
      return found;
    },
    lastBefore(atMs) {
      let day = DateTime.fromMillis(atMs, { zone: timeZone });
      for (let days = 0; days <= FORTNIGHT_DAYS; days++) {
        const last = onDay(day).findLast((instant) => instant <= atMs);
        if (last !== undefined) return last;
        day = day.minus({ days: 1 });
      }
      return undefined;
    },
  };
}

/** Offset of a zone's clock from UTC in minutes, remembered by the quarter day (the model asks at every step). */
export function createUtcOffset(timeZone: string): (atMs: number) => number {
  const known = new Map<number, number>();
  return (atMs) => {
    const quarter = Math.floor((atMs / MS_PER_DAY) * 4);
    const before = known.get(quarter);
    if (before !== undefined) return before;
    if (known.size > 4096) known.clear();
    const offset = DateTime.fromMillis(quarter * (MS_PER_DAY / 4), { zone: timeZone }).offset;
    known.set(quarter, offset);
    return offset;
  };
}
