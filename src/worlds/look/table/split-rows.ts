import { CsvError } from 'csv-parse';
import { parse } from 'csv-parse/sync';
import { LookError } from '../cells/look-error.js';
import { isMissing, looksLikeNumber } from '../cells/number-form.js';
import { readTimeCell } from '../cells/time-cell.js';

/** One line of the file: its number (first = 1) and its cells. */
export interface Row {
  readonly line: number;
  readonly cells: readonly string[];
}

/** A cell's text; a row may be shorter than the header. */
export const cellOf = ({ cells }: Row, index: number): string => cells[index] ?? '';

export interface SplitFile {
  readonly delimiter: string;
  readonly rows: readonly Row[];
  /** Columns of most rows. */
  readonly width: number;
}

/** Between columns; blanks only where nothing else makes columns. */
const DELIMITERS = [',', ';', '\t', '|'] as const;
const BLANKS = 'blanks';
const SAMPLE_CHARS = 64 * 1024;
/** Spreadsheets write their delimiter into a line of its own. */
const DECLARED = /^\s*"?sep=(.)"?\s*\r?\n/i;

function split(text: string, delimiter: string): Row[] {
  if (delimiter === BLANKS)
    return text.split(/\r?\n|\r/).map((line, index) => ({
      line: index + 1,
      cells: line.trim() === '' ? [''] : line.trim().split(/\s+/),
    }));
  const records = parse(text, {
    delimiter,
    bom: true,
    trim: true,
    relax_column_count: true,
    relax_quotes: true,
    skip_empty_lines: false,
    record_delimiter: ['\r\n', '\n', '\r'],
    info: true,
  }) as unknown as readonly { readonly record: string[]; readonly info: { readonly lines: number } }[];
  return records.map(({ record, info }) => ({ line: info.lines, cells: record }));
}

/** Quotes that do not stand between these delimiters mean that it is another. */
function splitOr(text: string, delimiter: string): Row[] {
  try {
    return split(text, delimiter);
  } catch (cause) {
    if (cause instanceof CsvError) return [];
    throw cause;
  }
}

function usualWidth(rows: readonly Row[]): { readonly width: number; readonly share: number } {
  const counts = new Map<number, number>();
  let filled = 0;
  for (const { cells } of rows) {
    if (cells.length === 1 && cells[0] === '') continue;
    filled += 1;
    counts.set(cells.length, (counts.get(cells.length) ?? 0) + 1);
  }
  const [width, count] = [...counts].sort((a, b) => b[1] - a[1] || b[0] - a[0])[0] ?? [1, 0];
  return { width, share: filled === 0 ? 0 : count / filled };
}

const isClean = (cell: string): boolean =>
  isMissing(cell) ||
  looksLikeNumber(cell) ||
  readTimeCell(cell) !== undefined ||
  /^[\p{L}\d _.:()#-]{1,40}$/u.test(cell);

/** How well a delimiter takes a sample apart: rows of one width, cells that are a time, a number or a name. */
function fitness(rows: readonly Row[]): number {
  const { width, share } = usualWidth(rows);
  if (width < 2) return 0;
  const cells = rows.filter((row) => row.cells.length === width).flatMap((row) => row.cells);
  return (share * cells.filter(isClean).length) / cells.length;
}

function wholly(text: string, delimiter: string): Row[] {
  try {
    return split(text, delimiter);
  } catch (cause) {
    if (!(cause instanceof CsvError)) throw cause;
    throw new LookError(
      'no-table',
      `a quote is opened in this file and never closed; open it in a text editor and close it, or take it out`,
      { cause },
    );
  }
}

/**
 * Takes a text apart into rows of cells, by the delimiter that fits best, quotes respected. Throws LookError `no-table` where
 * no delimiter makes two columns.
 */
export function splitRows(text: string): SplitFile {
  const declared = DECLARED.exec(text);
  const body = declared === null ? text : text.slice(declared[0].length);
  const sample = body.length <= SAMPLE_CHARS ? body : body.slice(0, body.lastIndexOf('\n', SAMPLE_CHARS) + 1);
  const candidates = declared?.[1] === undefined ? DELIMITERS : [declared[1]];
  const ranked = candidates
    .map((delimiter) => ({ delimiter, fit: fitness(splitOr(sample, delimiter)) }))
    .sort((a, b) => b.fit - a.fit);
  const best = ranked[0];
  const delimiter = best === undefined || best.fit === 0 ? BLANKS : best.delimiter;
  const rows = wholly(body, delimiter);
  const { width } = usualWidth(rows);
  if (body.trim() === '') throw new LookError('no-table', 'the file is empty; was it copied whole?');
  if (width < 2)
    throw new LookError(
      'no-table',
      'no columns found: expected a time and a value in each row, with a comma, semicolon, tab, bar or blanks between them',
    );
  const shift = declared === null ? 0 : 1;
  return { delimiter, rows: rows.map(({ line, cells }) => ({ line: line + shift, cells })), width };
}
