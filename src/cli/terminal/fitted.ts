import { stripVTControlCharacters } from 'node:util';

/** Where a terminal does not say how wide it is. */
const USUAL_COLUMNS = 80;
const INDENT = 2;
/** What goes on below a label stands below its text, where that leaves this much of the line. */
const LABEL_SHARE = 1 / 3;

/** A stream that may be a terminal. */
export interface Terminal {
  readonly isTTY?: boolean | undefined;
  readonly columns?: number | undefined;
}

/** How many columns a stream shows beside each other; without a terminal as many as there are. */
export function columnsOf({ isTTY, columns }: Terminal): number {
  if (isTTY !== true) return Number.POSITIVE_INFINITY;
  return columns !== undefined && columns > 0 ? columns : USUAL_COLUMNS;
}

const widthOf = (text: string): number => stripVTControlCharacters(text).length;

/** How far a line that goes on is set in: below its text where a short label stands before it, else a little more than it began. */
function hangOf(line: string, columns: number): number {
  const plain = stripVTControlCharacters(line);
  const labelled = /^\s*\S+(?: \S+)* {2,}(?=\S)/.exec(plain)?.[0].length ?? Number.POSITIVE_INFINITY;
  if (labelled <= columns * LABEL_SHARE) return labelled;
  const begun = plain.length - plain.trimStart().length + INDENT;
  return begun <= columns * LABEL_SHARE ? begun : 0;
}

/** Breaks a line at blanks; a word that is wider than the line, such as a path or an address, stays whole. */
function broken(line: string, columns: number, hang: number, lineEnd = ''): string {
  const lines = [''];
  for (const piece of line.match(/^\s*\S+|\s+\S+/g) ?? []) {
    const before = lines[lines.length - 1] ?? '';
    const isFirst = before.trim() === '';
    if (isFirst || widthOf(before) + widthOf(piece) + lineEnd.length <= columns)
      lines[lines.length - 1] = before + piece;
    else {
      lines[lines.length - 1] = before + lineEnd;
      lines.push(' '.repeat(hang) + piece.trimStart());
    }
  }
  return lines.join('\n') + (/\s+$/.exec(line)?.[0] ?? '');
}

/** A command to be typed, with a remark beside it: it goes on after a backslash, so that it can be pasted; the remark stands above. */
const COMMAND = /^(\s+)((?:sudo )?drybell(?: (?! )\S+)*)(?: {2,}(\S.*))?$/;

function fittedLine(line: string, columns: number): string {
  if (widthOf(line) <= columns) return line;
  const [, indent = '', command, remark] = COMMAND.exec(line) ?? [];
  if (command === undefined) return broken(line, columns, hangOf(line, columns));
  const told = remark === undefined ? [] : [broken(`${indent}# ${remark}`, columns, indent.length + INDENT)];
  return [...told, broken(`${indent}${command}`, columns, indent.length + 2 * INDENT, ' \\')].join('\n');
}

/** A text whose lines are no wider than the terminal. */
export function fitted(text: string, columns: number): string {
  return Number.isFinite(columns)
    ? text
        .split('\n')
        .map((line) => fittedLine(line, columns))
        .join('\n')
    : text;
}

/** A text as a stream can show it: fitted to a terminal's width; without colours where there is none, or where they are not wanted. */
export function shownOn(stream: Terminal, text: string, env = process.env): string {
  const isWanted = !env['NO_COLOR'] && (stream.isTTY === true || Boolean(env['FORCE_COLOR']));
  return fitted(isWanted ? text : stripVTControlCharacters(text), columnsOf(stream));
}

/** From now on what is said on the console fits the terminal. Data is written to the streams themselves, and stays as it is. */
export function fitConsole({ stdout, stderr } = process): void {
  console.log = (text = '') => void stdout.write(`${shownOn(stdout, String(text))}\n`);
  console.error = (text = '') => void stderr.write(`${shownOn(stderr, String(text))}\n`);
}
