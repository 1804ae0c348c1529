import { readNumber } from '../../cells/number-form.js';
import { readTimeCell, type TimeCell } from '../../cells/time-cell.js';
import type { Table } from '../find-table.js';
import { cellOf, type Row } from '../split-rows.js';

/** A column holds times when nine cells in ten are. */
const MOSTLY = 0.9;
const SERIAL_FROM = 36_526; // 2000-01-01
const SERIAL_TO = 55_153; // 2051-01-01
const EPOCH_FROM_S = 946_684_800; // 2000-01-01
const EPOCH_TO_S = 2_556_144_000; // 2051-01-01
const TIME_WORD = /time|date|zeit|datum|fecha|hora|heure|timestamp|epoch|unix|utc|serial/i;

function share(rows: readonly Row[], fits: (row: Row) => boolean): number {
  return rows.length === 0 ? 0 : rows.filter(fits).length / rows.length;
}

/** Columns whose cells are dates, times of day, or both. */
export function clockColumns(table: Table): readonly number[] | undefined {
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

export type Counted = { readonly index: number; readonly form: 's' | 'ms' | 'serial' };

/** A column of counted times: seconds or milliseconds since 1970, or a spreadsheet's days. */
export function countedColumn(table: Table): Counted | undefined {
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

/** The time of a row, from one column or from a date and a time of day. */
export function joined(row: Row, columns: readonly number[]): TimeCell | undefined {
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
