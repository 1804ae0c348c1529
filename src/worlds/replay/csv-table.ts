import { createReadStream } from 'node:fs';
import { CsvError, type Parser, parse } from 'csv-parse';
import { fileTrouble } from '../../host/disk/file-trouble.js';

const READ_CHUNK_BYTES = 256 * 1024;
/** Longest row, characters: a thousand columns of a logger are shorter; a file without line ends, or with a quote left open, is longer. */
export const LONGEST_ROW_CHARS = 64 * 1024;

/**
 * How recorded files are cut into cells. A quote at a place where none belongs is taken as it stands, so that its row alone is in doubt: csv-parse
 * forgives it only where it does not trim behind cells (its `rtrim`), which `tidyCell` does after it.
 */
export const CSV_FORM = {
  bom: true,
  ltrim: true,
  relax_column_count: true,
  relax_quotes: true,
  max_record_size: LONGEST_ROW_CHARS,
} as const;

/** A cell without the blanks behind it, and without the quotes that blanks kept csv-parse from taking off. */
export function tidyCell(cell: string): string {
  const text = cell.trimEnd();
  return text.length > 1 && text.startsWith('"') && text.endsWith('"')
    ? text.slice(1, -1).replaceAll('""', '"')
    : text;
}

/** What to do with a file that is written as in many countries of Europe. */
export const DECIMAL_COMMA_HINT =
  'is 1,5 meant for 1.5? drybell convert --decimal-comma turns the file into what is read here';

/** A recorded file can't be used at all: no file, or a header that is not the expected one. */
export class RecordingError extends Error {
  readonly code = 'recording-unusable';
  readonly retryable = false;
}

/** A row that was left out: where and why. The run goes on. */
export interface RejectedRow {
  readonly file: string;
  /** Line number in the file, header = 1. */
  readonly row: number;
  readonly reason: string;
}

/**
 * Streams a CSV file row by row after checking its header: every `required` column once, in any order, `optional`
 * ones perhaps, nothing else. Cells come in the order required..., optional... (undefined where the column is absent);
 * `onRow` returns why it can't use the row, if so.
 * Throws RecordingError for a missing file or a wrong header.
 */
export async function readCsvTable(
  file: string,
  columns: { readonly required: readonly string[]; readonly optional: readonly string[] },
  onRow: (cells: readonly (string | undefined)[], row: number) => string | undefined,
  onReject: (row: RejectedRow) => void,
): Promise<void> {
  const parser: Parser = createReadStream(file, { highWaterMark: READ_CHUNK_BYTES })
    .on('error', (cause) => {
      parser.destroy(new RecordingError(`${file}: can't be read: ${fileTrouble(cause)}`, { cause }));
    })
    .pipe(parse({ ...CSV_FORM, skip_empty_lines: false }));
  let order: number[] | undefined;
  let headerLength = 0;
  let row = 0;
  for await (const record of rowsOf(parser, file)) {
    row += 1;
    if (record.length === 1 && record[0] === '') continue;
    if (order === undefined) {
      if (!isText(record)) throw new RecordingError(`${file}: is not UTF-8 text; save it as CSV in UTF-8`);
      order = columnOrder(file, record, columns);
      headerLength = record.length;
      continue;
    }
    const cells = order.map((index) => record[index]);
    const reason =
      record.length === headerLength
        ? onRow(cells, row)
        : `expected ${headerLength} columns, found ${record.length}${record.length === headerLength + 1 ? `; ${DECIMAL_COMMA_HINT}` : ''}`;
    if (reason !== undefined)
      onReject({ file, row, reason: isText(record) ? reason : 'is not UTF-8 text; save the file in UTF-8' });
  }
  if (order === undefined)
    throw new RecordingError(`${file}: is empty; expected the header ${columns.required.join(',')}`);
}

/** What it means when csv-parse gave up; undefined for what is no matter of the file's form. */
export function csvTroubleWords(file: string, cause: unknown): string | undefined {
  if (!(cause instanceof CsvError)) return undefined;
  const row = Number(cause['records']) + 1;
  return cause.code === 'CSV_MAX_RECORD_SIZE'
    ? `${file}: row ${row} is longer than ${LONGEST_ROW_CHARS} characters: a double quote that is not closed, or no CSV`
    : `${file}: row ${row}: a double quote is not closed (${cause.message}); mend or take out that row`;
}

async function* rowsOf(parser: Parser, file: string): AsyncGenerator<string[]> {
  try {
    for await (const record of parser as AsyncIterable<string[]>) yield record.map(tidyCell);
  } catch (cause) {
    const words = csvTroubleWords(file, cause);
    throw words === undefined ? cause : new RecordingError(words, { cause });
  }
}

/** False where a byte was no UTF-8 (it reads as U+FFFD), or where the text is UTF-16 (it is full of NULs). */
function isText(cells: readonly string[]): boolean {
  return !cells.some((cell) => cell.includes('\uFFFD') || cell.includes('\0'));
}

const SEPARATORS = [';', '\t', '|'];

function columnOrder(
  file: string,
  header: readonly string[],
  columns: { readonly required: readonly string[]; readonly optional: readonly string[] },
): number[] {
  const expected = `${columns.required.join(',')}${columns.optional.map((name) => `[,${name}]`).join('')}`;
  const missing = columns.required.filter((name) => !header.includes(name));
  const unknown = header.filter(
    (name) => !columns.required.includes(name) && !columns.optional.includes(name),
  );
  const doubled = header.filter((name, index) => header.indexOf(name) !== index);
  const problems = [
    ...missing.map((name) => `column "${name}" is missing`),
    ...unknown.map((name) => `column "${name}" is unknown`),
    ...doubled.map((name) => `column "${name}" stands twice`),
  ];
  const [only = ''] = header;
  const separator = header.length === 1 ? SEPARATORS.find((mark) => only.includes(mark)) : undefined;
  if (separator !== undefined)
    throw new RecordingError(
      `${file}: its columns are parted by ${separator === '\t' ? 'tabs' : `"${separator}"`}, expected commas: ${expected}. drybell convert --delimiter turns it into what is read here`,
    );
  if (problems.length > 0)
    throw new RecordingError(`${file}: header: ${problems.join('; ')}; expected ${expected}`);
  return [...columns.required, ...columns.optional].map((name) => header.indexOf(name));
}
