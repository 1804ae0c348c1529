import { Argument, type Command } from 'commander';
import { factsCsv, readingsCsv } from '../../store/exports/export-rows.js';
import { FACT_TABLES, type FactTableName } from '../../store/exports/fact-tables.js';
import { askedConfig } from '../config/asked-config.js';
import { refuseReplacing, withForce } from '../program/may-write.js';
import { realClock } from '../program/real-clock.js';
import { writeOut } from '../program/write-out.js';
import { openReview } from '../running/farm/open-review.js';
import { askedSpan } from '../terminal/typed/asked-times.js';

interface ExportOptions {
  readonly config?: string;
  readonly since?: string;
  readonly until?: string;
  readonly probe?: readonly string[];
  readonly out?: string;
  readonly force?: true;
}

const USUAL_DAYS = 366;

function isFactTable(what: string): what is FactTableName {
  return what in FACT_TABLES;
}

async function exportTable(what: string, options: ExportOptions): Promise<void> {
  if (options.out !== undefined) refuseReplacing([options.out], options.force);
  const config = askedConfig(options.config);
  const span = askedSpan(options, config.timeZone, realClock.nowMs(), USUAL_DAYS);
  const queries = openReview(config);
  try {
    const text = isFactTable(what)
      ? factsCsv(queries, span, what)
      : readingsCsv(queries, span, options.probe);
    await writeOut(options.out, text);
  } finally {
    await queries.close();
  }
}

const EXAMPLES = `
Examples:
  drybell export readings --probe moist-celery temp-south --out readings.csv
  drybell export waterings --since 2026-04-01 --until 2026-05-01
  drybell export dry-downs --out dry-downs.csv`;

/** `drybell export`: what the store has as CSV, units in the headers. */
export function register(program: Command): void {
  withForce(program.command('export'))
    .description('Write what the store has as CSV, units in the headers; times are UTC.')
    .addArgument(new Argument('<what>', 'which table').choices(['readings', ...Object.keys(FACT_TABLES)]))
    .option('--since <day>', 'from this day or instant on (a year ago when absent)')
    .option('--until <day>', 'up to this day or instant (now when absent)')
    .option('--probe <id...>', 'readings of these probes only')
    .option('--out <file>', 'file to write (the terminal when absent)')
    .option('--config <file>', 'configuration of the farm')
    .addHelpText('after', EXAMPLES)
    .action((what: string, options: ExportOptions) => exportTable(what, options));
}
