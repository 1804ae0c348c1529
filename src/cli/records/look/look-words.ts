import { DateTime } from 'luxon';
import type { CameTrue } from '../../../drying/curves/came-true.js';
import type { FileFarm } from '../../../worlds/look/farm-of-file.js';
import { isVolumetric } from '../../../worlds/look/raw-values.js';
import type { FoundSeries, Recognised } from '../../../worlds/look/recognise.js';
import { UNKNOWN_COLUMN } from '../../../worlds/look/table/column-kind.js';

const DELIMITER_WORDS: Readonly<Record<string, string>> = {
  ',': 'commas',
  ';': 'semicolons',
  '\t': 'tabs',
  '|': 'bars',
  blanks: 'blanks',
};
/** Columns named in full; of more the number is said. */
const NAMED = 6;

const some = (names: readonly string[]): string =>
  names.length <= NAMED
    ? names.join(', ')
    : `${names.slice(0, NAMED).join(', ')} and ${names.length - NAMED} more`;

function formLine(found: Recognised): string {
  const numbers = found.decimal.mark === ',' ? 'decimal commas' : 'decimal points';
  return [
    `${found.encoding}, ${DELIMITER_WORDS[found.delimiter] ?? `"${found.delimiter}"`} between columns`,
    `${numbers}${found.decimal.isProven ? '' : ' (likely: no number proves it; --decimal says otherwise)'}`,
    found.hasHeader ? undefined : 'no header',
    found.isLong ? 'each row names its series' : undefined,
  ]
    .filter((part) => part !== undefined)
    .join(', ');
}

function timeLine({ time, timeNames }: Recognised): string {
  const from =
    time.zoneFrom === 'this machine'
      ? `${time.zone} (taken from this machine; --zone says otherwise)`
      : `${time.zone} (from ${time.zoneFrom})`;
  return [
    `${timeNames.map((name) => `"${name}"`).join(' and ')}: ${time.form}${time.sureness === 'likely' ? ' (likely)' : ''}, clock of ${from}`,
    time.newestFirst ? 'newest first' : undefined,
    time.repeatedHours > 0
      ? `${time.repeatedHours} rows in an hour that the clock repeats, told apart by their order`
      : undefined,
    time.neverHours > 0
      ? `${time.neverHours} rows in an hour that the clock never showed, left out`
      : undefined,
  ]
    .filter((part) => part !== undefined)
    .join('; ');
}

/** Series of one kind and unit together: "2 air-temperature in °C ("T1", "T2")". */
function probeLine(series: readonly FoundSeries[]): string {
  const groups = new Map<string, FoundSeries[]>();
  for (const one of series) {
    const key = `${one.kind} in ${one.unit}${one.isSure ? '' : ' (a guess)'}`;
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  return [...groups]
    .map(([what, of]) => `${of.length} ${what}: ${some(of.map(({ column }) => `"${column}"`))}`)
    .join('; ');
}

function leftLine({ left, badLines, series }: Recognised): string {
  const missing = series.reduce((sum, one) => sum + one.missingCount, 0);
  const unread = series.flatMap(({ unreadable }) => unreadable);
  const [first] = unread;
  const parts = [
    ...left.slice(0, NAMED).map(({ column, reason }) => `"${column}" (${reason})`),
    left.length > NAMED ? `${left.length - NAMED} columns more` : undefined,
    badLines.length > 0
      ? `${badLines.length} rows without time or with other columns (line ${badLines[0]})`
      : undefined,
    missing > 0 ? `${missing} cells that say "no value"` : undefined,
    first === undefined
      ? undefined
      : `${unread.length} cells that are no number (line ${first.line}: "${first.cell}")`,
  ].filter((part) => part !== undefined);
  const hint = left.some(({ reason }) => reason === UNKNOWN_COLUMN)
    ? '; --column NAME=KIND says what one is'
    : '';
  return parts.length === 0 ? 'nothing' : `${parts.join(', ')}${hint}`;
}

/** What was recognised, in four lines, each with how sure. */
export function recognisedLines(found: Recognised): readonly string[] {
  return [
    `written  ${formLine(found)}`,
    `time     ${timeLine(found)}`,
    `probes   ${probeLine(found.series)}`,
    `left out ${leftLine(found)}`,
  ];
}

const pct = (share: number): string => `${Math.round(100 * share)} %`;

/** What was taken for full and for ready, where the file itself says it. */
export function levelLines({ levels }: FileFarm): readonly string[] {
  return levels.map(
    ({ trayId, column, fullM3PerM3, readyM3PerM3, isFromWaterings }) =>
      `${trayId} ("${column}"): full at ${pct(fullM3PerM3)}, ready for water at ${pct(readyM3PerM3)} (${isFromWaterings ? 'where it stood when it was watered' : 'its driest readings: no watering in the file'}; from the whole file)`,
  );
}

/** Probes of which nobody knows what they read in a dry and in a wet block. */
export function uncalibratedLines(series: readonly FoundSeries[]): readonly string[] {
  return series
    .filter((one) => one.kind === 'block-moisture' && !isVolumetric(one))
    .map(
      ({ column, unit }) =>
        `"${column}": ${unit === '%' ? 'beyond what blocks hold, a scale of its own' : `in ${unit}`}, so waterings and dry-downs are not told from it until it is calibrated: --keep FOLDER, give the probe a "calibration", then drybell replay --store`,
    );
}

/** How the forecasts made along the file came true, in one line. */
export function cameTrueLine({
  forecastCount,
  decidedCount,
  decidedDryDownCount,
  insideShare,
}: CameTrue): string {
  if (insideShare === null)
    return `of ${forecastCount} forecasts in these dry-downs ${decidedCount} were decided; too many of the others were watered before their range was over to say how many came true`;
  return `forecasts came true within their range: ${pct(insideShare)} of ${decidedCount} decided ones in ${decidedDryDownCount} dry-downs (80 % is promised)`;
}

/** An instant on the file's clock. */
export function onClock(atMs: number, zone: string): string {
  return DateTime.fromMillis(atMs, { zone }).toFormat('d LLLL yyyy, HH:mm');
}
