import { MS_PER_DAY, MS_PER_MIN } from '../../../../shared/base/time-units.js';
import { LocalClock } from '../cells/local-clock.js';
import { LookError } from '../cells/look-error.js';
import { isMissing, readNumber } from '../cells/number-form.js';
import { type DateOrder, localMs, readTimeCell, type TimeCell } from '../cells/time-cell.js';
import { offsetName, zoneHint } from '../cells/zone-hint.js';
import type { Table } from './find-table.js';
import type { Row } from './split-rows.js';

/** How sure a recognition is: proven by the file, likely by common practice, or taken for want of better. */
export type Sureness = 'proven' | 'likely' | 'assumed';

export interface FileTimes {
  /** Columns that make the time, by index. */
  readonly columns: readonly number[];
  /** How the times are written, in words. */
  readonly form: string;
  readonly zone: string;
  readonly zoneFrom: 'each row' | 'the file' | 'you' | 'this machine';
  readonly sureness: Sureness;
  /** Epoch ms for each row of the table's data; undefined where the row has no usable time. */
  readonly atMs: readonly (number | undefined)[];
  readonly newestFirst: boolean;
  /** Rows in hours that a clock change repeats, and rows in hours that it leaves out. */
  readonly repeatedHours: number;
  readonly neverHours: number;
}

export interface TimeOptions {
  /** The logger's zone where its times carry none. */
  readonly zone?: string | undefined;
  readonly machineZone: string;
  readonly order?: DateOrder | undefined;
}

/** A column holds times when nine cells in ten are. */
const MOSTLY = 0.9;
/** Spreadsheets count days from 1899-12-30 (ECMA-376 part 1, 18.17.4.1: serial 1 is 1900-01-01, with a 29 February 1900). */
const SERIAL_ZERO_MS = Date.UTC(1899, 11, 30);
const SERIAL_FROM = 36_526; // 2000-01-01
const SERIAL_TO = 55_153; // 2051-01-01
const EPOCH_FROM_S = 946_684_800; // 2000-01-01
const EPOCH_TO_S = 2_556_144_000; // 2051-01-01
const TIME_WORD = /time|date|zeit|datum|fecha|hora|heure|timestamp|epoch|unix|utc|serial/i;
const ORDER_IN_HEADER: readonly (readonly [DateOrder, RegExp])[] = [
  ['dmy', /\b(dd?|tt?)[./-]mm?[./-](yy|jj|aa)/i],
  ['mdy', /\bmm?[./-]dd?[./-]yy/i],
  ['ymd', /\b(yy(yy)?|jj(jj)?)[./-]mm?[./-](dd?|tt?)/i],
];

const cellOf = ({ cells }: Row, index: number): string => cells[index] ?? '';

function share(rows: readonly Row[], fits: (row: Row) => boolean): number {
  return rows.length === 0 ? 0 : rows.filter(fits).length / rows.length;
}

/** Columns whose cells are dates, times of day, or both. */
function clockColumns(table: Table): readonly number[] | undefined {
  const indexes = table.names.map((_, index) => index);
  const sample = table.data.slice(0, 2000);
  const holds = (index: number, fits: (cell: TimeCell) => boolean): boolean =>
    share(sample, (row) => {
      const cell = readTimeCell(cellOf(row, index));
      return cell !== undefined && fits(cell);
    }) >= MOSTLY;
  const whole = indexes.filter((index) =>
    holds(index, (cell) => cell.date !== undefined && cell.clockMs !== undefined),
  );
  // Of several the one that carries its offset, then one named UTC, then the first.
  const withOffset = whole.find((index) => holds(index, (cell) => cell.offsetMin !== undefined));
  const best = withOffset ?? whole.find((index) => /utc|gmt/i.test(table.names[index] ?? '')) ?? whole[0];
  if (best !== undefined) return [best];
  const date = indexes.find((index) => holds(index, (cell) => cell.date !== undefined));
  if (date === undefined) return undefined;
  const clock = indexes.find((index) =>
    holds(index, (cell) => cell.date === undefined && cell.clockMs !== undefined),
  );
  return clock === undefined ? [date] : [date, clock];
}

type Counted = { readonly index: number; readonly form: 's' | 'ms' | 'serial' };

/** A column of counted times: seconds or milliseconds since 1970, or a spreadsheet's days. */
function countedColumn(table: Table): Counted | undefined {
  const numbers = (index: number): readonly number[] =>
    table.data
      .map((row) => readNumber(cellOf(row, index), cellOf(row, index).includes(',') ? ',' : '.'))
      .filter((value): value is number => typeof value === 'number');
  const within = (values: readonly number[], from: number, to: number): boolean =>
    values.length >= table.data.length * MOSTLY && values.every((value) => value >= from && value < to);
  const candidates = table.names
    .map((name, index) => ({ index, isNamed: TIME_WORD.test(name), values: numbers(index) }))
    .sort((a, b) => Number(b.isNamed) - Number(a.isNamed) || a.index - b.index);
  for (const { index, isNamed, values } of candidates) {
    if (within(values, EPOCH_FROM_S, EPOCH_TO_S)) return { index, form: 's' };
    if (within(values, EPOCH_FROM_S * 1000, EPOCH_TO_S * 1000)) return { index, form: 'ms' };
    const runs =
      values.every((value, i) => i === 0 || value >= (values[i - 1] ?? 0)) ||
      values.every((value, i) => i === 0 || value <= (values[i - 1] ?? 0));
    if (
      (isNamed || runs) &&
      within(values, SERIAL_FROM, SERIAL_TO) &&
      values.some((value) => value % 1 !== 0)
    )
      return { index, form: 'serial' };
  }
  return undefined;
}

function joined(row: Row, columns: readonly number[]): TimeCell | undefined {
  const [date, clock] = columns;
  const first = date === undefined ? undefined : readTimeCell(cellOf(row, date));
  if (clock === undefined || first === undefined) return first;
  const second = readTimeCell(cellOf(row, clock));
  if (second === undefined) return undefined;
  return {
    ...first,
    clockMs: second.clockMs,
    hasHalfDays: second.hasHalfDays,
    offsetMin: second.offsetMin ?? first.offsetMin,
  };
}

const shown = (cell: string, order: DateOrder, ms: number): string =>
  `"${cell}" is ${new Date(ms).toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric', timeZone: 'UTC' })} read ${
    order === 'dmy' ? 'day first' : order === 'mdy' ? 'month first' : 'year first'
  } (--date-order ${order})`;

/** How many steps between rows are far from the usual one: the wrong order of day and month leaps by months. */
function leaps(times: readonly number[]): number {
  const steps = times.slice(1).map((at, index) => Math.abs(at - (times[index] ?? at)));
  const usual = [...steps].sort((a, b) => a - b)[Math.floor(steps.length / 2)] ?? 0;
  return steps.filter((step) => step > Math.max(10 * usual, MS_PER_DAY)).length;
}

interface Ordered {
  readonly order: DateOrder;
  readonly sureness: Sureness;
}

function orderOf(
  table: Table,
  columns: readonly number[],
  cells: readonly (TimeCell | undefined)[],
  asked: DateOrder | undefined,
): Ordered {
  const dated = cells.filter((cell) => cell?.date !== undefined);
  const known = dated.filter((cell): cell is TimeCell => cell !== undefined);
  const written = known.reduce<readonly DateOrder[]>(
    (orders, cell) => orders.filter((order) => cell.orders.includes(order)),
    known[0]?.orders ?? [],
  );
  const timesIn = (order: DateOrder): readonly (number | undefined)[] =>
    known.map(({ date, clockMs }) => (date === undefined ? undefined : localMs(date, order, clockMs ?? 0)));
  const possible = written.filter((order) => timesIn(order).every((ms) => ms !== undefined));
  if (asked !== undefined) {
    if (written.includes(asked)) return { order: asked, sureness: 'proven' };
    throw new LookError(
      'bad-option',
      `--date-order ${asked}: the dates of this file are not written so; leave it out, or give another order`,
    );
  }
  const [only] = possible;
  if (only === undefined) {
    const odd = written[0] ?? 'ymd';
    return { order: odd, sureness: 'likely' };
  }
  if (possible.length === 1) return { order: only, sureness: 'proven' };
  const head = columns.map((index) => `${table.names[index] ?? ''} ${table.units[index] ?? ''}`).join(' ');
  const named = ORDER_IN_HEADER.find(
    ([order, pattern]) => possible.includes(order) && pattern.test(`${head} ${table.above}`),
  );
  if (named !== undefined) return { order: named[0], sureness: 'proven' };
  const ranked = possible
    .map((order) => ({ order, leaps: leaps(timesIn(order).map((ms) => ms ?? 0)) }))
    .sort((a, b) => a.leaps - b.leaps);
  const [best, next] = ranked;
  if (best !== undefined && next !== undefined && best.leaps < next.leaps)
    return { order: best.order, sureness: 'likely' };
  const row = table.data.find((_, index) => cells[index]?.date !== undefined);
  const text = row === undefined ? '' : cellOf(row, columns[0] ?? 0);
  const both = possible.map((order) => shown(text, order, timesIn(order)[0] ?? 0)).join(', or ');
  throw new LookError(
    'date-order-open',
    `the dates can be read in more than one way: ${both}. Say which with --date-order.`,
  );
}

/** Zones in the file's own words: the time's header and unit first, then the lines above. */
function zoneOf(
  table: Table,
  columns: readonly number[],
  options: TimeOptions,
): Pick<FileTimes, 'zone' | 'zoneFrom'> {
  if (options.zone !== undefined) return { zone: options.zone, zoneFrom: 'you' };
  const head = columns.map((index) => `${table.names[index] ?? ''} ${table.units[index] ?? ''}`).join(' ');
  const hint = zoneHint(head) ?? zoneHint(table.above);
  if (hint !== undefined) return { zone: hint, zoneFrom: 'the file' };
  return { zone: options.machineZone, zoneFrom: 'this machine' };
}

function runsBackwards(times: readonly (number | undefined)[]): boolean {
  let [up, down] = [0, 0];
  let before: number | undefined;
  for (const at of times) {
    if (at === undefined) continue;
    if (before !== undefined && at > before) up += 1;
    if (before !== undefined && at < before) down += 1;
    before = at;
  }
  return down > up;
}

/** Local clock readings to instants, in the order of time so that a repeated hour is told apart. */
function toInstants(
  locals: readonly (number | undefined)[],
  clock: LocalClock,
  newestFirst: boolean,
): (number | undefined)[] {
  const atMs: (number | undefined)[] = new Array(locals.length).fill(undefined);
  let afterMs = Number.NEGATIVE_INFINITY;
  let sameLocal: number | undefined;
  let sameMs = 0;
  for (let i = 0; i < locals.length; i++) {
    const index = newestFirst ? locals.length - 1 - i : i;
    const local = locals[index];
    if (local === undefined) continue;
    // Several rows of one time (one for each probe) are one instant.
    const at = local === sameLocal ? sameMs : clock.instantMs(local, afterMs);
    if (at === undefined) continue;
    atMs[index] = at;
    [sameLocal, sameMs] = [local, at];
    afterMs = at;
  }
  return atMs;
}

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
