import { DateTime } from 'luxon';
import { MS_PER_DAY } from '../../../shared/base/time-units.js';
import type { Rounds } from '../../../shared/config/notices.js';
import type { RoundCalendar } from '../../watering/desk/round-calendar.js';
import { weekdayOf } from './weekday.js';

const FORTNIGHT_DAYS = 14;

function timesOn(rounds: Rounds, day: DateTime): readonly string[] {
  if (Array.isArray(rounds)) return rounds;
  const name = weekdayOf(day);
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

interface KnownRounds {
  readonly fromMs: number;
  readonly toMs: number;
  readonly instants: readonly number[];
}

/** All rounds of the fortnights before and after an instant. */
function roundsAround(rounds: Rounds, atMs: number, timeZone: string): KnownRounds {
  const today = DateTime.fromMillis(atMs, { zone: timeZone }).startOf('day');
  const instants: number[] = [];
  for (let day = -FORTNIGHT_DAYS; day <= 2 * FORTNIGHT_DAYS; day++)
    instants.push(...roundsOfDay(rounds, today.plus({ days: day })));
  return { fromMs: today.toMillis(), toMs: today.plus({ days: FORTNIGHT_DAYS }).toMillis(), instants };
}

/** The farm's rounds on its own clock, worked out a month at a time. Both look a fortnight far. */
export function createRoundCalendar(rounds: Rounds, timeZone: string): RoundCalendar {
  let known: KnownRounds | undefined;
  const around = (atMs: number): readonly number[] => {
    if (known === undefined || atMs < known.fromMs || atMs >= known.toMs)
      known = roundsAround(rounds, atMs, timeZone);
    return known.instants;
  };
  return {
    after(atMs, count) {
      const instants = around(atMs);
      const first = instants.findIndex((instant) => instant > atMs);
      return first < 0 ? [] : instants.slice(first, first + count);
    },
    lastBefore(atMs) {
      const last = around(atMs).findLast((instant) => instant <= atMs);
      return last !== undefined && atMs - last <= FORTNIGHT_DAYS * MS_PER_DAY ? last : undefined;
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
