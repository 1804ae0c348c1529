import { columnsOf } from './fitted.js';

const GAP = '  ';
/** A row that goes on in another line does so this far in. */
const FOLDED = '\n      ';

/**
 * Cells of a table, each column as wide as its widest cell. Where that is wider than the terminal, a row's further cells follow in lines
 * of their own below its first.
 *
 * @param widthColumns what fits beside each other; without a terminal everything does
 */
export function columns(
  rows: readonly (readonly string[])[],
  widthColumns = columnsOf(process.stdout),
): string[] {
  const widths = (rows[0] ?? []).map((_, column) => Math.max(...rows.map((row) => row[column]?.length ?? 0)));
  const lines = rows.map((row) =>
    row
      .map((cell, column) => cell.padEnd(widths[column] ?? 0))
      .join(GAP)
      .trimEnd(),
  );
  // callers set a table in by a gap
  const fitsColumns = widthColumns - GAP.length;
  return lines.every(({ length }) => length <= fitsColumns)
    ? lines
    : rows.map((row) => folded(row, fitsColumns));
}

function folded([first = '', ...others]: readonly string[], widthColumns: number): string {
  const lines = [''];
  for (const cell of others.filter((text) => text !== '')) {
    const line = lines[lines.length - 1] ?? '';
    const longer = line === '' ? cell : `${line}${GAP}${cell}`;
    if (line !== '' && longer.length + FOLDED.length - 1 > widthColumns) lines.push(cell);
    else lines[lines.length - 1] = longer;
  }
  return [first, ...lines].join(FOLDED);
}
