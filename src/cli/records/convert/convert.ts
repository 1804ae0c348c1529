import type { Command } from 'commander';
import { IANAZone } from 'luxon';
import type { ConvertReport } from '../../../../shared/cli-reports.js';
import { findConfig } from '../../config/find-config.js';
import { loadConfig } from '../../config/load-config.js';
import { EXIT } from '../../program/exit-status.js';
import { refuseReplacing, withForce } from '../../program/may-write.js';
import { printJson, withJson } from '../../terminal/json-option.js';
import { showProgress } from '../../terminal/progress.js';
import { convertCsv } from './convert-csv.js';
import { formatSaysOffset } from './logger-time.js';
import { parseValueRule, type ValueRule } from './value-rule.js';

interface ConvertCommandOptions {
  readonly json?: true;
  readonly time: string;
  readonly value: readonly string[];
  readonly series?: string;
  readonly zone?: string;
  readonly epoch?: 's' | 'ms';
  readonly timeFormat?: string;
  readonly delimiter: string;
  readonly decimalComma?: true;
  readonly out: string;
  readonly force?: true;
}

/** Problems printed in full; the rest is counted. */
const PRINTED_PROBLEMS = 20;

const EXAMPLES = `
Examples:
A file with a row for each time and a column for each probe:
  drybell convert logger.csv --time Date --zone Europe/Berlin \\
    --value "Temp (F)=temp-south*0.5555556-17.77778" --value "Soil 1 mV=moist-celery*0.001" --out readings.csv

A file with a row for each time and series:
  drybell convert plots.csv --time time_iso --series series \\
    --value "moisture=moist-{series}*0.01" --value "temperature_c@plot-1=temp-site" --out readings.csv

Then:
  drybell replay --config farm.jsonc --readings readings.csv --out results

--value COLUMN[@SERIES]=PROBE[*FACTOR][+OFFSET], once for each column that holds values:
  COLUMN   name of the column
  @SERIES  only rows of that series (with --series)
  PROBE    id of the probe in your configuration; {series} stands for the row's series
  *FACTOR  and +OFFSET bring the value to the probe's raw unit: V, °C, %, lx or W/m2, g

Moisture that a logger gives as percent has no volts. Write it as a share (*0.01) and give the probe the calibration
points 0 V = 0.01 and 0.9 V = 0.9 if the percent are of volume; without calibration points if they are not: Drybell then
learns what "full" reads from the waterings.

Times without an offset are read in --zone, else in the zone of the farm whose configuration is here. In the hour that the
clocks repeat they are taken in the order of the file; a time that the clocks leapt over is reported.
Exit status: 0 written; 1 no row could be used; 2 the file or an option can't be used.
Rows that can't be used are reported with their number and left out; nothing else of the file is changed or sorted.`;

function parseRules(texts: readonly string[]): { rules: ValueRule[]; problems: string[] } {
  const parsed = texts.map(parseValueRule);
  return {
    rules: parsed.filter((rule) => typeof rule !== 'string'),
    problems: parsed.filter((rule) => typeof rule === 'string'),
  };
}

async function convert(inFile: string, options: ConvertCommandOptions): Promise<void> {
  const { rules, problems } = parseRules(options.value);
  if (options.zone !== undefined && !IANAZone.isValidZone(options.zone))
    problems.push(`--zone "${options.zone}": expected an IANA time zone such as "Europe/Berlin"`);
  if (options.epoch !== undefined && options.epoch !== 's' && options.epoch !== 'ms')
    problems.push(`--epoch "${options.epoch}": expected s or ms`);
  if (
    options.series === undefined &&
    rules.some((rule) => rule.series !== undefined || rule.probe.includes('{'))
  )
    problems.push('--value uses a series; say with --series which column holds it');
  if (problems.length > 0) {
    for (const problem of problems) console.error(problem);
    process.exitCode = EXIT.usedWrongly;
    return;
  }
  const zone = zoneOf(options);
  if (zone === undefined && options.timeFormat !== undefined && !formatSaysOffset(options.timeFormat)) {
    console.error(
      `--time-format "${options.timeFormat}" reads times without an offset: say in which zone the logger's clock ran with --zone, e.g. --zone Europe/Berlin, or --zone UTC.`,
    );
    process.exitCode = EXIT.usedWrongly;
    return;
  }
  refuseReplacing([options.out], options.force);
  let printed = 0;
  let first: string | undefined;
  const progress = showProgress('the rows read');
  const summary = await convertCsv({
    inFile,
    outFile: options.out,
    timeColumn: options.time,
    seriesColumn: options.series,
    rules,
    time: { zone, epoch: options.epoch, format: options.timeFormat },
    delimiter: options.delimiter,
    decimalComma: options.decimalComma === true,
    onProblem: (row, reason) => {
      printed += 1;
      first ??= `row ${row}: ${reason}`;
      if (printed <= PRINTED_PROBLEMS) console.error(`${inFile}: row ${row}: ${reason}; the row is left out`);
    },
    onProgress: (share) => progress.at(share),
  }).finally(() => progress.end());
  if (printed > PRINTED_PROBLEMS) console.error(`... and ${printed - PRINTED_PROBLEMS} more`);
  if (summary.doubtfulTimes > 0)
    console.error(
      `${summary.doubtfulTimes} rows stand in an hour that came twice when the clocks of ${zone} went back; they were taken in the order of the file.`,
    );
  if (options.json === true) {
    const { byProbe, ...counts } = summary;
    printJson({
      ...(summary.readings === 0 ? {} : { out: options.out }),
      ...counts,
      byProbe: Object.fromEntries(byProbe),
    } satisfies ConvertReport);
    if (summary.readings === 0) process.exitCode = EXIT.notWell;
    return;
  }
  if (summary.readings === 0) {
    console.error(
      `${inFile}: no reading could be used, of ${summary.rows} rows and ${summary.emptyCells} empty cells; nothing was written.${first === undefined ? '' : ` The first problem: ${first}`}`,
    );
    process.exitCode = EXIT.notWell;
    return;
  }
  console.log(
    `${summary.rows} rows read, ${summary.readings} readings written to ${options.out}, ${summary.emptyCells} empty cells, ${summary.problems} problems`,
  );
  for (const [probe, count] of summary.byProbe) console.log(`  ${probe}: ${count}`);
}

/** Zone of times without an offset: as told, else the farm's whose configuration is here, which is said. */
function zoneOf({ zone, epoch }: ConvertCommandOptions): string | undefined {
  const file = findConfig(undefined, process.cwd(), process.env);
  if (zone !== undefined || epoch !== undefined || file === undefined) return zone;
  const { timeZone } = loadConfig(file);
  console.error(`Times without an offset are read as ${timeZone}, the time zone in ${file}.`);
  return timeZone;
}

const collect = (text: string, before: readonly string[]): readonly string[] => [...before, text];

/** `drybell convert`: a logger's CSV becomes what `drybell replay` reads. */
export function register(program: Command): void {
  withJson(withForce(program.command('convert')), 'convert-report')
    .description("Turn a logger's CSV into the time,probe,value form that replay reads.")
    .argument('<file>', 'CSV with a header row')
    .requiredOption('--time <column>', 'column that holds the time')
    .requiredOption(
      '--value <rule>',
      'COLUMN[@SERIES]=PROBE[*FACTOR][+OFFSET]; may be given often',
      collect,
      [],
    )
    .option('--series <column>', 'column that says which series a row belongs to')
    .option('--zone <name>', 'time zone of times without an offset, e.g. Europe/Berlin')
    .option('--epoch <unit>', 'times are counts since 1970 in s or ms')
    .option('--time-format <tokens>', 'e.g. "dd.MM.yyyy HH:mm:ss"; ISO 8601 when absent')
    .option('--delimiter <text>', 'between columns', ',')
    .option('--decimal-comma', 'numbers are written 1,5')
    .requiredOption('--out <file>', 'file to write')
    .addHelpText('after', EXAMPLES)
    .action(convert);
}
