import { IANAZone } from 'luxon';

/** Abbreviations that mean one offset wherever they are written; those that mean several (CST, BST, IST) are left out. */
const ABBREVIATIONS: Readonly<Record<string, string>> = {
  CET: 'UTC+1',
  MEZ: 'UTC+1',
  CEST: 'UTC+2',
  MESZ: 'UTC+2',
  EST: 'UTC-5',
  EDT: 'UTC-4',
  MST: 'UTC-7',
  MDT: 'UTC-6',
  PST: 'UTC-8',
  PDT: 'UTC-7',
};

const OFFSET = /\b(?:UTC|GMT)\s*(?<sign>[+\-\u2212])\s*(?<h>\d{1,2})(?::?(?<min>\d{2}))?/;
const BARE_OFFSET =
  /(?:time ?zone|zeitzone|zona horaria|tz|offset)[^+\-\d]{0,12}(?<sign>[+-])(?<h>\d{1,2})(?::?(?<min>\d{2}))?/i;
const NAMED =
  /\b(?:Africa|America|Antarctica|Asia|Atlantic|Australia|Europe|Indian|Pacific)\/[A-Za-z_]+(?:\/[A-Za-z_]+)?/;

/** Name of a fixed offset: `UTC`, `UTC+2`, `UTC-3:30`. */
export function offsetName(minutes: number): string {
  if (minutes === 0) return 'UTC';
  const size = Math.abs(minutes);
  const rest = size % 60 === 0 ? '' : `:${String(size % 60).padStart(2, '0')}`;
  return `UTC${minutes < 0 ? '-' : '+'}${Math.floor(size / 60)}${rest}`;
}

/** The time zone that a header or the lines above it name; undefined where they name none. */
export function zoneHint(text: string): string | undefined {
  const named = NAMED.exec(text)?.[0];
  if (named !== undefined && IANAZone.isValidZone(named)) return named;
  const offset = (OFFSET.exec(text) ?? BARE_OFFSET.exec(text))?.groups;
  if (offset !== undefined) {
    const minutes = Number(offset['h']) * 60 + Number(offset['min'] ?? 0);
    return offsetName(offset['sign'] === '+' ? minutes : -minutes);
  }
  const short = /\b(CET|MEZ|CEST|MESZ|EST|EDT|MST|MDT|PST|PDT)\b/.exec(text)?.[0];
  if (short !== undefined) return ABBREVIATIONS[short];
  return /(?<![A-Za-z])(UTC|GMT|Zulu)(?![A-Za-z])/i.test(text) ? 'UTC' : undefined;
}
