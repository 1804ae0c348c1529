import { MS_PER_DAY } from '../../../../../shared/base/time-units.js';
import { LookError } from '../../cells/look-error.js';
import { type DateOrder, localMs, type TimeCell } from '../../cells/time-cell.js';
import type { Table } from '../find-table.js';
import { cellOf } from '../split-rows.js';
import type { Sureness } from './file-times.js';

const ORDER_IN_HEADER: readonly (readonly [DateOrder, RegExp])[] = [
  ['dmy', /\b(dd?|tt?)[./-]mm?[./-](yy|jj|aa)/i],
  ['mdy', /\bmm?[./-]dd?[./-]yy/i],
  ['ymd', /\b(yy(yy)?|jj(jj)?)[./-]mm?[./-](dd?|tt?)/i],
];

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

/** How the dates of a file are written. Throws LookError `date-order-open`, with both readings, where that can't be told. */
export function orderOf(
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
