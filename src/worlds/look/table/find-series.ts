import { isMissing, looksLikeNumber } from '../cells/number-form.js';
import { unitIn } from '../cells/units.js';
import type { Table } from './find-table.js';

/** One stream of values before it is known what it measures. */
export interface RawSeries {
  /** How people will know it: the column's name, or the series' where a row holds one value of many series. */
  readonly label: string;
  /** What tells its kind: names and units in words. */
  readonly name: string;
  readonly unitText: string;
  /** Its cells, by the index of the row in the table's data. */
  readonly cells: readonly { readonly row: number; readonly cell: string }[];
}

/** Names of a column that holds values of whatever its row says. */
const GENERIC =
  /^(values?|readings?|measure(ment|d value)?|messwert|wert|valor|lectura|medida|result|data|y|raw ?value)\b/i;
const SERIES_WORD =
  /sensor|probe|channel|kanal|canal|node|plot|series|serie|device|location|point|name|place|ort|lugar|tag|source|id\b/i;
const QUANTITY_WORD =
  /quantity|parameter|type|variable|measur|metric|kind|grosse|größe|magnitud|property|field/i;
const UNIT_WORD = /^units?$|einheit|unidad|unité|uom/i;
/** More names than this are words of people, not names of series. */
const MANY_SERIES = 300;

interface Columns {
  readonly values: readonly number[];
  readonly series: readonly number[];
  readonly unit: number | undefined;
}

/** Sorts the columns that are not time into values, names of series and units. */
function columnsOf(table: Table, timeColumns: readonly number[], hasRepeatedTimes: boolean): Columns {
  const values: number[] = [];
  const series: number[] = [];
  let unit: number | undefined;
  table.names.forEach((name, index) => {
    if (timeColumns.includes(index)) return;
    const cells = table.data.map((row) => row.cells[index] ?? '').filter((cell) => !isMissing(cell));
    if (cells.length === 0) return;
    const distinct = new Set(cells);
    const numbers = cells.filter(looksLikeNumber).length / cells.length;
    const areUnits = [...distinct].every((cell) => unitIn(cell) !== undefined && !looksLikeNumber(cell));
    if (UNIT_WORD.test(name) || (areUnits && numbers === 0)) unit = index;
    else if (numbers < 1 / 2) {
      if (distinct.size > 1 && distinct.size <= MANY_SERIES && distinct.size < cells.length)
        series.push(index);
    } else if (
      hasRepeatedTimes &&
      SERIES_WORD.test(name) &&
      distinct.size <= MANY_SERIES &&
      cells.every((cell) => /^\d{1,6}$/.test(cell))
    )
      series.push(index);
    else values.push(index);
  });
  return { values, series: hasRepeatedTimes ? series : [], unit };
}

function wide(table: Table, columns: Columns): readonly RawSeries[] {
  return columns.values.map((index) => ({
    label: table.names[index] ?? '',
    name: table.names[index] ?? '',
    unitText: table.units[index] ?? '',
    cells: table.data.map(({ cells }, row) => ({ row, cell: cells[index] ?? '' })),
  }));
}

function long(table: Table, { values, series, unit }: Columns): readonly RawSeries[] {
  const made = new Map<string, RawSeries & { readonly cells: { row: number; cell: string }[] }>();
  // What names the place stands before what names the quantity.
  const order = [...series].sort(
    (a, b) =>
      Number(QUANTITY_WORD.test(table.names[a] ?? '')) - Number(QUANTITY_WORD.test(table.names[b] ?? '')),
  );
  table.data.forEach(({ cells }, row) => {
    const parts = order.map((index) => cells[index] ?? '').filter((part) => part !== '');
    const rowUnit = unit === undefined ? '' : (cells[unit] ?? '');
    for (const index of values) {
      const header = table.names[index] ?? '';
      const isGeneric = values.length === 1 && GENERIC.test(header);
      const label = [...parts, ...(isGeneric ? [] : [header])].join(' ');
      let one = made.get(label);
      if (one === undefined) {
        one = { label, name: label, unitText: rowUnit || (table.units[index] ?? ''), cells: [] };
        made.set(label, one);
      }
      one.cells.push({ row, cell: cells[index] ?? '' });
    }
  });
  return [...made.values()];
}

/**
 * The streams of a table: a column each, or where several rows share a time a name each ("several probes in rows").
 * @param timeColumns the columns that make the time
 */
export function findSeries(
  table: Table,
  timeColumns: readonly number[],
  atMs: readonly (number | undefined)[],
): { readonly series: readonly RawSeries[]; readonly isLong: boolean } {
  const known = atMs.filter((at) => at !== undefined);
  const hasRepeatedTimes = new Set(known).size < known.length;
  const columns = columnsOf(table, timeColumns, hasRepeatedTimes);
  // A series of their own is also what rows of one name at a time make, when each row names its quantity.
  const isLong = columns.series.length > 0;
  return { series: isLong ? long(table, columns) : wide(table, columns), isLong };
}
