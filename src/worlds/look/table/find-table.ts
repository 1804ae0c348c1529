import { LookError } from '../cells/look-error.js';
import { isMissing, looksLikeNumber } from '../cells/number-form.js';
import { readTimeCell } from '../cells/time-cell.js';
import { isUnit } from '../cells/units.js';
import type { Row, SplitFile } from './split-rows.js';

/** Where the data stand, and what the lines above them say. */
export interface Table {
  /** Names of the columns; "column 3" where the file has no header. */
  readonly names: readonly string[];
  /** The units row's cells, empty where there is none. */
  readonly units: readonly string[];
  readonly hasHeader: boolean;
  /** What stands above the header, as text. */
  readonly above: string;
  readonly data: readonly Row[];
  /** Rows after the first of the data that are not as wide as the table. */
  readonly ragged: readonly Row[];
}

const TIME_WORD = /time|date|zeit|datum|fecha|hora|heure|ora\b|timestamp|when|utc/i;
/** How far above the data a header may stand. */
const HEADER_ROWS = 4;

function isData({ cells }: Row, width: number): boolean {
  if (Math.abs(cells.length - width) > 1 || cells.length < 2) return false;
  const times = cells.filter(
    (cell) => readTimeCell(cell)?.date !== undefined || /^\d{10}(\d{3})?$/.test(cell),
  ).length;
  const numbers = cells.filter((cell) => looksLikeNumber(cell)).length;
  if (times > 0) return numbers > 0 || cells.some((cell) => cell !== '' && isMissing(cell));
  // Counts of days since 1900 look like any number: then the row is numbers throughout.
  return numbers >= 2 && cells.every((cell) => looksLikeNumber(cell) || isMissing(cell));
}

function headerOf(above: readonly Row[], width: number): { names: Row | undefined; units: Row | undefined } {
  const near = above.slice(-HEADER_ROWS).filter(({ cells }) => Math.abs(cells.length - width) <= 1);
  const isUnits = ({ cells }: Row): boolean => {
    const filled = cells.filter((cell) => cell !== '');
    return filled.length > 0 && filled.filter(isUnit).length / filled.length > 1 / 2;
  };
  const named = near.filter((row) => !isUnits(row));
  const names =
    named.findLast(({ cells }) => cells.some((cell) => TIME_WORD.test(cell)) && cells.length >= width - 1) ??
    named.at(-1);
  const units = near.find((row) => row !== names && isUnits(row));
  return { names, units };
}

/** Finds header, units and data. Throws LookError `no-table` where no row holds a time and a value. */
export function findTable({ rows, width }: SplitFile): Table {
  const filled = rows.filter(({ cells }) => cells.some((cell) => cell !== ''));
  const first = filled.findIndex((row, index) => {
    const next = filled[index + 1];
    return isData(row, width) && (next === undefined || isData(next, width));
  });
  if (first < 0)
    throw new LookError(
      'no-table',
      'no row was found that holds a time and a value; expected rows such as 2026-04-18 07:00, 21.5',
    );
  const above = filled.slice(0, first);
  const { names, units } = headerOf(above, width);
  const columns = Array.from({ length: width }, (_, index) => index);
  return {
    names: columns.map((index) => names?.cells[index]?.replace(/\s+/g, ' ') || `column ${index + 1}`),
    units: columns.map((index) => units?.cells[index] ?? ''),
    hasHeader: names !== undefined,
    above: above
      .filter((row) => row !== names && row !== units)
      .map(({ cells }) => cells.join(' '))
      .join('\n'),
    data: filled.slice(first).filter(({ cells }) => cells.length >= width - 1 && cells.length <= width + 1),
    ragged: filled.slice(first).filter(({ cells }) => cells.length < width - 1 || cells.length > width + 1),
  };
}
