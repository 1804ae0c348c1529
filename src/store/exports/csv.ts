/** A cell: numbers and times as they are, absent as nothing. */
export type Cell = string | number | boolean | null | undefined;

/** One row of CSV after RFC 4180: quoted where it has a comma, a quote or a line break. */
export function csvRow(cells: readonly Cell[]): string {
  return `${cells.map(csvCell).join(',')}\n`;
}

function csvCell(cell: Cell): string {
  if (cell === null || cell === undefined) return '';
  const text = String(cell);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/**
 * Free text by people, for a cell: spreadsheets take a text that begins with one of =, +, -, @ for a formula, so an apostrophe
 * goes before it (OWASP, CSV injection).
 */
export function freeText(text: string | undefined): string | undefined {
  return text !== undefined && /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
}
