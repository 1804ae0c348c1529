import { createReadStream, createWriteStream, statSync } from 'node:fs';
import { rename, rm } from 'node:fs/promises';
import { pipeline } from 'node:stream/promises';
import { parse } from 'csv-parse';
import { idSchema, toInstant } from '../../../../shared/base/ids.js';
import { fileTrouble, isFileTrouble } from '../../../host/disk/file-trouble.js';
import { CSV_FORM, csvTroubleWords, tidyCell } from '../../../worlds/replay/csv-table.js';
import { type LoggerTime, loggerTime } from './logger-time.js';
import type { ValueRule } from './value-rule.js';

/** The file or its header can't be used; nothing was written. */
export class ConvertError extends Error {
  readonly code = 'logger-file-unusable';
  readonly retryable = false;
}

export interface ConvertOptions {
  readonly inFile: string;
  readonly outFile: string;
  readonly timeColumn: string;
  readonly seriesColumn: string | undefined;
  readonly rules: readonly ValueRule[];
  readonly time: LoggerTime;
  readonly delimiter: string;
  readonly decimalComma: boolean;
  /** Told of each problem: the row's number (header = 1) and what is wrong with it. */
  readonly onProblem: (row: number, reason: string) => void;
  /** Told how much of the file has been read, 0 to 1. */
  readonly onProgress?: (share: number) => void;
}

export interface ConvertSummary {
  readonly rows: number;
  readonly readings: number;
  readonly emptyCells: number;
  readonly problems: number;
  /** Rows at a clock time that came twice, when the clocks went back; taken in the order of the file. */
  readonly doubtfulTimes: number;
  /** Readings for each probe, in the order in which they turned up. */
  readonly byProbe: ReadonlyMap<string, number>;
}

interface Columns {
  readonly time: number;
  readonly series: number | undefined;
  readonly values: readonly { readonly rule: ValueRule; readonly index: number }[];
}

function columnsOf(header: readonly string[], options: ConvertOptions): Columns {
  const wanted = [
    options.timeColumn,
    ...(options.seriesColumn === undefined ? [] : [options.seriesColumn]),
    ...options.rules.map((rule) => rule.column),
  ];
  const missing = [...new Set(wanted.filter((name) => !header.includes(name)))];
  if (missing.length > 0)
    throw new ConvertError(
      `${options.inFile}: no column ${missing.map((name) => `"${name}"`).join(', ')}; its columns are: ${header.join(', ')}` +
        (header.length === 1 ? '. If that is one long name, give the separator with --delimiter' : ''),
    );
  return {
    time: header.indexOf(options.timeColumn),
    series: options.seriesColumn === undefined ? undefined : header.indexOf(options.seriesColumn),
    values: options.rules.map((rule) => ({ rule, index: header.indexOf(rule.column) })),
  };
}

const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/;
const DECIMAL_COMMA = /^[+-]?\d+,\d+$/;
const EMPTY = new Set(['', 'NA', 'NaN', 'nan', 'null', '-']);
const NOT_UTF8 = '\uFFFD';
const SIGNIFICANT_DIGITS = 7;

/**
 * Streams a logger's CSV into replay's `time,probe,value`, row by row, in constant memory. Rows that can't be used are
 * reported and left out. The result appears under its name only when it is whole and holds a reading. Throws ConvertError when the file or
 * its header can't be used.
 */
export async function convertCsv(options: ConvertOptions): Promise<ConvertSummary> {
  const counts = { rows: 0, readings: 0, emptyCells: 0, problems: 0, doubtfulTimes: 0 };
  const byProbe = new Map<string, number>();
  const report = (row: number, reason: string): void => {
    counts.problems += 1;
    options.onProblem(row, reason);
  };

  const cellLine = (
    time: string,
    series: string,
    rule: ValueRule,
    cell: string,
    row: number,
  ): string | undefined => {
    if (EMPTY.has(cell)) {
      counts.emptyCells += 1;
      return undefined;
    }
    const text = options.decimalComma ? cell.replace(',', '.') : cell;
    const probe = rule.probe.replaceAll('{series}', series);
    const value = Number(text) * rule.factor + rule.offset;
    if (!NUMBER.test(text) || !Number.isFinite(value))
      report(
        row,
        `column "${rule.column}": "${cell}" is not a number${DECIMAL_COMMA.test(cell) ? '; say --decimal-comma where 1,5 means 1.5' : ''}`,
      );
    else if (!idSchema.safeParse(probe).success)
      report(row, `series "${series}" makes no probe id: "${probe}"`);
    else {
      counts.readings += 1;
      byProbe.set(probe, (byProbe.get(probe) ?? 0) + 1);
      return `${time},${probe},${Number(value.toPrecision(SIGNIFICANT_DIGITS))}\n`;
    }
    return undefined;
  };

  async function* convertRows(records: AsyncIterable<string[]>): AsyncGenerator<string> {
    let columns: Columns | undefined;
    let width = 0;
    let row = 0;
    let beforeMs = Number.NEGATIVE_INFINITY;
    for await (const cells of records) {
      const record = cells.map(tidyCell);
      row += 1;
      if (record.length === 1 && record[0] === '') continue;
      if (columns === undefined) {
        columns = columnsOf(record, options);
        width = record.length;
        yield 'time,probe,value\n';
        continue;
      }
      counts.rows += 1;
      if (record.length !== width) {
        report(row, `expected ${width} columns, found ${record.length}`);
        continue;
      }
      if (record.some((cell) => cell.includes(NOT_UTF8))) {
        report(row, 'holds bytes that are not UTF-8; save the file as UTF-8');
        continue;
      }
      const read = loggerTime(record[columns.time] ?? '', options.time, beforeMs);
      if (typeof read === 'string') {
        report(row, read);
        continue;
      }
      const { atMs, isDoubtful } = read;
      beforeMs = atMs;
      if (isDoubtful) counts.doubtfulTimes += 1;
      const series = columns.series === undefined ? '' : (record[columns.series] ?? '');
      const time = toInstant(atMs);
      let lines = '';
      for (const { rule, index } of columns.values)
        if (rule.series === undefined || rule.series === series)
          lines += cellLine(time, series, rule, record[index] ?? '', row) ?? '';
      if (lines !== '') yield lines;
    }
    if (columns === undefined) throw new ConvertError(`${options.inFile}: is empty; expected a header row`);
  }

  const unfinished = `${options.outFile}.unfinished`;
  const parser = parse({ ...CSV_FORM, delimiter: options.delimiter });
  try {
    const bytes = statSync(options.inFile).size;
    const file = createReadStream(options.inFile);
    file.on('data', () => options.onProgress?.(file.bytesRead / bytes));
    await pipeline(file, parser, convertRows, createWriteStream(unfinished));
    if (counts.readings > 0) await rename(unfinished, options.outFile);
    else await rm(unfinished, { force: true });
  } catch (cause) {
    await rm(unfinished, { force: true });
    const words = csvTroubleWords(options.inFile, cause);
    if (words !== undefined) throw new ConvertError(words, { cause });
    if (isFileTrouble(cause))
      throw new ConvertError(`${cause.path ?? options.outFile}: ${fileTrouble(cause)}`, { cause });
    throw cause;
  }
  return { ...counts, byProbe };
}
