import type { DateTime } from 'luxon';

const weekdays = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;

/** The weekday of a local day, as the configuration names it; undefined for an invalid date. */
export function weekdayOf(day: DateTime): (typeof weekdays)[number] | undefined {
  return weekdays[day.weekday - 1];
}
