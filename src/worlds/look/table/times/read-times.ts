import { MS_PER_DAY, MS_PER_MIN } from '../../../../../shared/base/time-units.js';
import { LocalClock } from '../../cells/local-clock.js';
import { LookError } from '../../cells/look-error.js';
import { isMissing, readNumber } from '../../cells/number-form.js';
import { type DateOrder, localMs } from '../../cells/time-cell.js';
import { offsetName } from '../../cells/zone-hint.js';
import type { Table } from '../find-table.js';
import { cellOf } from '../split-rows.js';
import { orderOf } from './date-order.js';
import type { FileTimes, TimeOptions } from './file-times.js';
import { runsBackwards, toInstants, zoneOf } from './instants.js';
import { type Counted, clockColumns, countedColumn, joined } from './time-columns.js';

/** Spreadsheets count days from 1899-12-30 (ECMA-376 part 1, 18.17.4.1: serial 1 is 1900-01-01, with a 29 February 1900). */
const SERIAL_ZERO_MS = Date.UTC(1899, 11, 30);

function countedTimes(table: Table, { index, form }: Counted, options: TimeOptions): FileTimes {
  const values = table.data.map((row) => {
    const cell = cellOf(row, index);
    const value = isMissing(cell) ? undefined : readNumber(cell, cell.includes(',') ? ',' : '.');
    return typeof value === 'number' ? value : undefined;
  });
  const newestFirst = runsBackwards(values);
  if (form !== 'serial') {
    const factor = form === 's' ? 1000 : 1;
    return {
      columns: [index],
      form: form === 's' ? 'seconds since 1970' : 'milliseconds since 1970',
      zone: 'UTC',
      zoneFrom: 'the file',
      sureness: 'proven',
      atMs: values.map((value) => (value === undefined ? undefined : Math.round(value * factor))),
      newestFirst,
      repeatedHours: 0,
      neverHours: 0,
    };
  }
  const zone = zoneOf(table, [index], options);
  const clock = new LocalClock(zone.zone);
  // A day's fraction in a spreadsheet's fifteen digits is good to a millisecond at best; loggers mean whole seconds.
  const locals = values.map((value) =>
    value === undefined ? undefined : SERIAL_ZERO_MS + Math.round((value * MS_PER_DAY) / 1000) * 1000,
  );
  const atMs = toInstants(locals, clock, newestFirst);
  return {
    columns: [index],
    form: "a spreadsheet's days since 1900",
    ...zone,
    sureness: 'likely',
    atMs,
    newestFirst,
    repeatedHours: clock.repeatedHours,
    neverHours: clock.neverHours,
  };
}

const FORMS: Readonly<Record<DateOrder, string>> = {
  ymd: 'year-month-day',
  dmy: 'day-month-year',
  mdy: 'month-day-year',
};

/**
 * Finds the column or columns of time and reads every row's instant. Throws LookError `no-time` where there are none, and
 * `date-order-open`, with both readings, where day and month can't be told apart.
 */
export function readTimes(table: Table, options: TimeOptions): FileTimes {
  const columns = clockColumns(table);
  if (columns === undefined) {
    const counted = countedColumn(table);
    if (counted !== undefined) return countedTimes(table, counted, options);
    throw new LookError(
      'no-time',
      `no column of times was found among ${table.names.map((name) => `"${name}"`).join(', ')}: expected a date with its time of day in one column or two, such as 2026-04-18 07:00, seconds since 1970, or a spreadsheet's days`,
    );
  }
  const cells = table.data.map((row) => joined(row, columns));
  const { order, sureness } = orderOf(table, columns, cells, options.order);
  const locals = cells.map((cell) =>
    cell?.date === undefined ? undefined : localMs(cell.date, order, cell.clockMs ?? 0),
  );
  const newestFirst = runsBackwards(locals);
  const form = `${FORMS[order]}${cells.some((cell) => cell?.hasHalfDays) ? ', 12-hour clock' : ''}`;
  const offsets = new Set(cells.map((cell) => cell?.offsetMin).filter((minutes) => minutes !== undefined));
  const common = { columns, form, sureness, newestFirst };
  if (offsets.size > 0) {
    const [offset = 0] = offsets;
    return {
      ...common,
      zone: offsets.size === 1 ? offsetName(offset) : (options.zone ?? 'UTC'),
      zoneFrom: 'each row',
      atMs: locals.map((ms, index) => {
        const minutes = cells[index]?.offsetMin;
        return ms === undefined || minutes === undefined ? undefined : ms - minutes * MS_PER_MIN;
      }),
      repeatedHours: 0,
      neverHours: 0,
    };
  }
  const zone = zoneOf(table, columns, options);
  const clock = new LocalClock(zone.zone);
  const atMs = toInstants(locals, clock, newestFirst);
  return { ...common, ...zone, atMs, repeatedHours: clock.repeatedHours, neverHours: clock.neverHours };
}
