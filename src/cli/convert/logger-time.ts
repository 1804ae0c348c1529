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

const HAS_OFFSET = /([Zz]|[+-]\d\d(:?\d\d)?)$/;
const EPOCH = /^\d+(\.\d+)?$/;

/** Epoch ms of a logger's time, or the reason why it is none. */
export function loggerTimeMs(text: string, { zone, epoch, format }: LoggerTime): number | string {
  if (epoch !== undefined) {
    if (!EPOCH.test(text)) return `time "${text}" is no count of ${epoch} since 1970`;
    return Math.round(Number(text) * (epoch === 's' ? 1000 : 1));
  }
  const time =
    format === undefined
      ? DateTime.fromISO(text.replace(' ', 'T'), { zone: zone ?? 'utc' })
      : DateTime.fromFormat(text, format, { zone: zone ?? 'utc' });
  if (!time.isValid)
    return `time "${text}" can't be read as ${format === undefined ? 'ISO 8601 (2026-04-18T07:00:00Z)' : format}`;
  if (zone === undefined && format === undefined && !(text.includes(':') && HAS_OFFSET.test(text)))
    return `time "${text}" has no offset; say the logger's time zone with --zone, e.g. --zone Europe/Berlin`;
  // an hour that a clock change repeats counts as the first of the two
  return Math.min(...time.getPossibleOffsets().map((one) => one.toMillis()));
}
