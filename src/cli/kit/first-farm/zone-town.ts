import { readFileSync } from 'node:fs';

/** Where the town stands for which a time zone is named. */
export interface Town {
  readonly latitude: number;
  readonly longitude: number;
  /** ISO 3166, two letters. */
  readonly country: string;
}

/** The table that comes with the system's time zones (IANA tz database, public domain); Windows has none. */
const TABLE = '/usr/share/zoneinfo/zone.tab';
const SHARE_OF_DEGREE = 60;
/** A tenth of a degree is 11 km: more would say that the farm stands in the town. */
const DECIMALS = 1;

/** `+5230` and `+0013730`: degrees and minutes, with or without seconds (ISO 6709). */
function degrees(text: string, degreeDigits: number): number {
  const digits = text.slice(1);
  const whole = Number(digits.slice(0, degreeDigits));
  const minutes = Number(digits.slice(degreeDigits, degreeDigits + 2));
  const value = whole + minutes / SHARE_OF_DEGREE;
  return Number((text.startsWith('-') ? -value : value).toFixed(DECIMALS));
}

/** The town of a time zone; undefined where the system does not say. */
export function townOf(timeZone: string, table = TABLE): Town | undefined {
  let text: string;
  try {
    text = readFileSync(table, 'utf8');
  } catch (cause) {
    if (cause instanceof Error && 'code' in cause) return undefined;
    throw cause;
  }
  for (const line of text.split('\n')) {
    const [country = '', where = '', name] = line.split('\t');
    const parts = /^([+-]\d{4,6})([+-]\d{5,7})$/.exec(where);
    if (name !== timeZone || parts === null) continue;
    return { latitude: degrees(parts[1] ?? '', 2), longitude: degrees(parts[2] ?? '', 3), country };
  }
  return undefined;
}
