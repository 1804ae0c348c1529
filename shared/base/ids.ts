import { z } from 'zod';

/** Name of a farm, bench, tray, probe or board: letters, digits, `-`, `_`, 1 to 40 of them. */
export const idSchema = z
  .string()
  .regex(/^[A-Za-z0-9_-]{1,40}$/, 'expected 1 to 40 letters, digits, "-" or "_"')
  .meta({ id: 'Id' });

/** An instant on the wire: RFC 3339 in UTC with `Z`, or with an offset. */
export const instantSchema = z.iso
  .datetime({ offset: true, error: 'expected an RFC 3339 time such as 2026-04-18T07:00:00Z' })
  .meta({ id: 'Instant' });

/** Time of day on the farm's clock, `HH:MM`, 24 hours. */
export const timeOfDaySchema = z
  .string()
  .regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'expected a time of day such as "07:00"')
  .meta({ id: 'TimeOfDay' });

/** Epoch milliseconds as the RFC 3339 instant that we write everywhere: UTC, `Z`, no fraction when it is zero. */
export function toInstant(atMs: number): string {
  const text = new Date(atMs).toISOString();
  return text.endsWith('.000Z') ? `${text.slice(0, -5)}Z` : text;
}
