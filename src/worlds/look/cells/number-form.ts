/** What stands between the whole and the fraction of a number. */
export type DecimalMark = '.' | ',';

/** Words and signs by which loggers say that there was no value. */
const MISSING =
  /^(|-+|n\/?a\.?|#n\/a|nan|-?1\.#(ind|qnan)|null|nil|none|no ?data|no ?value|no ?reading|missing|missed|error|err|fault|fail(ed)?|invalid|bad|open|short|offline|not? ?connected|disconnected|overflow|overrange|out of range|o\.?l\.?|inf|-inf|\?+|x+|kein wert|fehler|fehlt|sin datos?|sin dato|manquant|mancante|ausente)$/i;

/** Numbers that loggers write for "nothing": no probe of ours reads them. */
const SENTINELS: ReadonlySet<number> = new Set([-9999, -99999, -999, -999.9, -9999.9, -6999, -7999, -127]);

const SPACES = /[\s\u00a0\u2009\u202f']/g;
/** A number with whatever marks, and perhaps a unit behind it. */
const NUMBER_AND_UNIT =
  /^(?<number>[+\-\u2212]?(?:\d[\d.,\s\u00a0\u2009\u202f']*|[.,]\d+)(?:[eE][+-]?\d+)?)\s*(?<unit>[^\d\s.,'].{0,14})?$/u;

/** True where a cell says in a word, or by a number that stands for it, that there is no value. */
export function isMissing(cell: string): boolean {
  return MISSING.test(cell.trim());
}

interface CellParts {
  readonly digits: string;
  readonly unit: string | undefined;
}

function partsOf(cell: string): CellParts | undefined {
  const groups = NUMBER_AND_UNIT.exec(cell.trim())?.groups;
  const digits = groups?.['number'];
  if (digits === undefined) return undefined;
  return { digits: digits.replace(SPACES, '').replace('\u2212', '-'), unit: groups?.['unit']?.trim() };
}

/** True where a cell holds one number, by either decimal mark, perhaps with a unit behind it. */
export function looksLikeNumber(cell: string): boolean {
  const parts = partsOf(cell);
  return (
    parts !== undefined && /^[+-]?[\d.,]+([eE][+-]?\d+)?$/.test(parts.digits) && !isClockOrDate(parts.digits)
  );
}

/** Three groups of digits with points between are a date, not a number with thousands, unless the groups have three digits. */
function isClockOrDate(digits: string): boolean {
  return /^\d{1,4}\.\d{1,2}\.\d{2,4}$/.test(digits);
}

/** The unit that a cell carries behind its number ("21.5 °C"); undefined when it carries none. */
export function unitInCell(cell: string): string | undefined {
  return partsOf(cell)?.unit;
}

/** Which mark a cell shows to be the decimal one; undefined where it fits both or has none. */
function voteOf(digits: string): DecimalMark | undefined {
  const [point, comma] = [digits.lastIndexOf('.'), digits.lastIndexOf(',')];
  if (point >= 0 && comma >= 0) return point > comma ? '.' : ',';
  if (point < 0 && comma < 0) return undefined;
  const mark: DecimalMark = point >= 0 ? '.' : ',';
  const [whole = '', ...groups] = digits.replace(/^[+-]/, '').split(mark);
  if (groups.length > 1) return mark === '.' ? ',' : '.';
  const looksLikeThousands = groups[0]?.length === 3 && /^[1-9]\d{0,2}$/.test(whole);
  return looksLikeThousands ? undefined : mark;
}

/** The decimal mark of a file's numbers, and whether any number proves it. */
export function decimalMarkOf(
  cells: Iterable<string>,
  delimiter: string,
): { readonly mark: DecimalMark; readonly isProven: boolean } {
  const votes = { '.': 0, ',': 0 };
  const open = { '.': 0, ',': 0 };
  for (const cell of cells) {
    const digits = partsOf(cell)?.digits;
    if (digits === undefined) continue;
    const vote = voteOf(digits);
    if (vote !== undefined) votes[vote] += 1;
    else if (digits.includes('.')) open['.'] += 1;
    else if (digits.includes(',')) open[','] += 1;
  }
  if (votes['.'] !== votes[',']) return { mark: votes['.'] > votes[','] ? '.' : ',', isProven: true };
  // All numbers have three digits behind one mark: a fraction is likelier than thousands, and no comma can be one beside comma columns.
  return {
    mark: delimiter !== ',' && open[','] > open['.'] ? ',' : '.',
    isProven: open['.'] + open[','] === 0,
  };
}

/** A cell's number, `missing` where it says that there is none, undefined where it is neither. */
export function readNumber(cell: string, mark: DecimalMark): number | 'missing' | undefined {
  if (isMissing(cell)) return 'missing';
  const digits = partsOf(cell)?.digits;
  if (digits === undefined) return undefined;
  const plain = digits.replaceAll(mark === '.' ? ',' : '.', '').replace(mark, '.');
  const value = Number(plain);
  if (!Number.isFinite(value)) return undefined;
  return SENTINELS.has(value) ? 'missing' : value;
}
