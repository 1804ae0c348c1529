import { DateTime } from 'luxon';

/** How a logger writes its times. */
export interface LoggerTime {
  /** Zone of times that carry no offset; undefined: such times are refused. */
  readonly zone: string | undefined;
  /** Numbers count seconds or milliseconds since 1970, or are refused. */
  readonly epoch: 's' | 'ms' | undefined;
  /** Luxon's format tokens, e.g. "dd.MM.yyyy HH:mm:ss"; undefined: ISO 8601. */
  readonly format: string | undefined;
}

/** An instant, and whether the logger's clock showed it once only. */
export interface ReadTime {
  readonly atMs: number;
  /** The clock showed this time twice in that night, and the other one is meant no less. */
  readonly isDoubtful: boolean;
}

const HAS_OFFSET = /([Zz]|[+-]\d\d(:?\d\d)?)$/;
/** What is no date would be taken for an hour of today: "18", "07:30". */
const ISO_DATE = /^\d{4}(-\d\d-\d\d|\d{4}|-W\d\d-\d|-\d{3})([T ]|$)/;
const EPOCH = /^\d+(\.\d+)?$/;
/** End of year 9999: RFC 3339 has four digits for a year. */
const LATEST_MS = Date.UTC(10_000, 0, 1) - 1;
const MS_PER_S = 1000;

/** True when a format's tokens say the offset or count from 1970, so that no zone is needed. */
export function formatSaysOffset(format: string): boolean {
  return /[ZzXx]/.test(format.replace(/'[^']*'/g, ''));
}

/** Reads the time as if its clock ran in `zone`; luxon moves what that clock never showed. */
function readIn(text: string, format: string | undefined, zone: string): DateTime {
  return format === undefined
    ? DateTime.fromISO(text.replace(' ', 'T'), { zone })
    : DateTime.fromFormat(text, format, { zone });
}

/**
 * A logger's time, or the reason why it is none.
 * @param afterMs instant of the row before: of a clock time that comes twice, the first one that is not before it is meant
 */
export function loggerTime(
  text: string,
  { zone, epoch, format }: LoggerTime,
  afterMs = Number.NEGATIVE_INFINITY,
): ReadTime | string {
  if (epoch !== undefined) {
    const atMs = EPOCH.test(text) ? Math.round(Number(text) * (epoch === 's' ? MS_PER_S : 1)) : Number.NaN;
    return atMs <= LATEST_MS
      ? { atMs, isDoubtful: false }
      : `time "${text}" is no count of ${epoch} since 1970${Number.isNaN(atMs) ? '' : ' that ends before the year 10000'}`;
  }
  const time = readIn(text, format, zone ?? 'utc');
  if (!time.isValid || (format === undefined && !ISO_DATE.test(text)))
    return `time "${text}" can't be read as ${format === undefined ? 'ISO 8601 (2026-04-18T07:00:00Z)' : format}`;
  const saysOffset =
    format === undefined ? text.includes(':') && HAS_OFFSET.test(text) : formatSaysOffset(format);
  if (saysOffset) return { atMs: time.toMillis(), isDoubtful: false };
  if (zone === undefined)
    return `time "${text}" has no offset; say the logger's time zone with --zone, e.g. --zone Europe/Berlin`;
  const shown = readIn(text, format, 'utc');
  if (time.hour !== shown.hour || time.minute !== shown.minute)
    return `time "${text}" never was in ${zone}: the clocks went forward over it. Does the logger keep one time all year? Then give that, e.g. --zone UTC+1`;
  const possible = time.getPossibleOffsets().map((one) => one.toMillis());
  possible.sort((a, b) => a - b);
  const atMs = possible.find((one) => one >= afterMs) ?? possible[0] ?? time.toMillis();
  return { atMs, isDoubtful: possible.length > 1 };
}
