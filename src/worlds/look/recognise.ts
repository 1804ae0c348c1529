import type { ProbeKind } from '../../../shared/config/kit/probes.js';
import { LookError } from './cells/look-error.js';
import {
  type DecimalMark,
  decimalMarkOf,
  looksLikeNumber,
  readNumber,
  unitInCell,
} from './cells/number-form.js';
import { type FileUnit, unitIn } from './cells/units.js';
import { columnKind, type Verdict } from './table/column-kind.js';
import { decodeBytes } from './table/decode-bytes.js';
import { findSeries, type RawSeries } from './table/find-series.js';
import { findTable, type Table } from './table/find-table.js';
import { guessKinds } from './table/guess-kind.js';
import { splitRows } from './table/split-rows.js';
import type { FileTimes, TimeOptions } from './table/times/file-times.js';
import { readTimes } from './table/times/read-times.js';

/** Values of one probe as the file has them, in the order of time, in the file's unit. */
export interface FoundSeries {
  /** The column's name, or the series' where rows name it. */
  readonly column: string;
  readonly kind: ProbeKind;
  readonly unit: FileUnit;
  readonly isSure: boolean;
  readonly atMs: readonly number[];
  readonly values: readonly number[];
  /** Cells that said that there was no value, and cells that could not be read. */
  readonly missingCount: number;
  readonly unreadable: readonly { readonly line: number; readonly cell: string }[];
}

export interface Recognised {
  readonly encoding: string;
  readonly delimiter: string;
  readonly decimal: { readonly mark: DecimalMark; readonly isProven: boolean };
  readonly hasHeader: boolean;
  /** True where each row holds a value of one of several series. */
  readonly isLong: boolean;
  readonly time: FileTimes;
  readonly timeNames: readonly string[];
  readonly series: readonly FoundSeries[];
  /** Columns that are none of our probes, each with the reason. */
  readonly left: readonly { readonly column: string; readonly reason: string }[];
  readonly rowCount: number;
  /** Rows left out: wrong number of columns, or no usable time. */
  readonly badLines: readonly number[];
}

export interface RecogniseOptions extends TimeOptions {
  readonly decimal?: DecimalMark | undefined;
  /** What people say of columns, by name: it goes before what is recognised. */
  readonly told?:
    | ReadonlyMap<string, { readonly kind: ProbeKind; readonly unit: FileUnit | undefined }>
    | undefined;
}

const USUAL_UNIT: Readonly<Record<ProbeKind, FileUnit>> = {
  'air-temperature': '°C',
  'relative-humidity': '%',
  light: 'lx',
  'block-moisture': '%',
  'tray-weight': 'g',
};
/** Cells looked at for the decimal mark. */
const MARK_ROWS = 5000;

interface Values {
  readonly atMs: number[];
  readonly values: number[];
  readonly missingCount: number;
  readonly unreadable: { line: number; cell: string }[];
  readonly cellUnit: string;
}

function valuesOf(series: RawSeries, table: Table, atMs: FileTimes['atMs'], mark: DecimalMark): Values {
  const pairs: { at: number; value: number }[] = [];
  const unreadable: { line: number; cell: string }[] = [];
  let missingCount = 0;
  let cellUnit = '';
  for (const { row, cell } of series.cells) {
    const at = atMs[row];
    if (at === undefined) continue;
    const value = readNumber(cell, mark);
    if (value === 'missing') missingCount += 1;
    else if (value === undefined) unreadable.push({ line: table.data[row]?.line ?? 0, cell });
    else {
      pairs.push({ at, value });
      cellUnit ||= unitInCell(cell) ?? '';
    }
  }
  pairs.sort((a, b) => a.at - b.at);
  return {
    atMs: pairs.map(({ at }) => at),
    values: pairs.map(({ value }) => value),
    missingCount,
    unreadable,
    cellUnit,
  };
}

function largestOf(values: readonly number[]): number {
  let largest = Number.NEGATIVE_INFINITY;
  for (const value of values) if (value > largest) largest = value;
  return largest;
}

function verdictOf(series: RawSeries, found: Values, options: RecogniseOptions): Verdict {
  const told = options.told?.get(series.label);
  const unitText = `${series.unitText} ${found.cellUnit}`;
  if (told === undefined) return columnKind(series.name, unitText, largestOf(found.values));
  const unit = told.unit ?? unitIn(unitText) ?? unitIn(series.name) ?? USUAL_UNIT[told.kind];
  return { kind: told.kind, unit, isSure: true };
}

/** Recognises what a logger's file holds. Throws LookError where it can't be told, with what to say. */
export function recognise(bytes: Uint8Array, options: RecogniseOptions): Recognised {
  const { text, encoding, hasMark } = decodeBytes(bytes);
  const split = splitRows(text);
  const table = findTable(split);
  const time = readTimes(table, options);
  const { series, isLong } = findSeries(table, time.columns, time.atMs);
  const decimal =
    options.decimal === undefined
      ? decimalMarkOf(
          series
            .flatMap(({ cells }) => cells.slice(0, MARK_ROWS).map(({ cell }) => cell))
            .filter(looksLikeNumber),
          split.delimiter,
        )
      : { mark: options.decimal, isProven: true };
  const streams = series.map((one) => {
    const found = valuesOf(one, table, time.atMs, decimal.mark);
    return { one, found, verdict: verdictOf(one, found, options) };
  });
  const nameless =
    table.hasHeader || isLong
      ? new Map<number, Verdict>()
      : guessKinds(
          streams.flatMap(({ found, verdict }, index) =>
            verdict.kind === undefined && found.values.length > 1 ? [{ index, values: found.values }] : [],
          ),
        );
  const left: { column: string; reason: string }[] = [];
  const kept: FoundSeries[] = [];
  streams.forEach(({ one, found, verdict: named }, index) => {
    const verdict = nameless.get(index) ?? named;
    const { cellUnit, ...values } = found;
    if (verdict.kind === undefined) left.push({ column: one.label, reason: verdict.reason });
    else if (values.values.length === 0) left.push({ column: one.label, reason: 'no value in it' });
    else
      kept.push({
        column: one.label,
        kind: verdict.kind,
        unit: verdict.unit,
        isSure: verdict.isSure,
        ...values,
      });
  });
  if (kept.length === 0)
    throw new LookError(
      'no-series',
      `no temperature, humidity, light, moisture or weight was recognised (${left.map(({ column, reason }) => `"${column}": ${reason}`).join('; ') || 'no column of numbers'}). Say what a column is with --column "NAME=KIND", e.g. --column "${left[0]?.column ?? 'Soil 1'}=block-moisture".`,
    );
  return {
    encoding: hasMark ? `${encoding} with its mark` : encoding,
    delimiter: split.delimiter,
    decimal,
    hasHeader: table.hasHeader,
    isLong,
    time,
    timeNames: time.columns.map((index) => table.names[index] ?? ''),
    series: kept,
    left,
    rowCount: table.data.length + table.ragged.length,
    badLines: [
      ...table.ragged.map(({ line }) => line),
      ...table.data.filter((_, index) => time.atMs[index] === undefined).map(({ line }) => line),
    ].sort((a, b) => a - b),
  };
}
