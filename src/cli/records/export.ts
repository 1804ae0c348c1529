import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Argument, type Command } from 'commander';
import type { FarmConfig } from '../../../shared/config/farm.js';
import { type ExportName, exportRowSchemas } from '../../../shared/export-rows.js';
import { PhotoShelf } from '../../review/photos/photo-shelf.js';
import { exportCsv, exportJsonLines } from '../../store/exports/export-rows.js';
import { storeDocuments } from '../../store/sqlite/read-state.js';
import { createSpeech } from '../../watering/sentences/speech.js';
import { askedConfig } from '../config/asked-config.js';
import { refuseReplacing, withForce } from '../program/may-write.js';
import { writeOut } from '../program/write-out.js';
import { openReview } from '../running/house-parts/open-review.js';
import type { JsonFlag } from '../terminal/json-option.js';
import { showProgress } from '../terminal/progress.js';
import { BadWord } from '../terminal/typed/bad-word.js';
import { keptSpan } from './told/kept-span.js';

interface ExportOptions extends JsonFlag {
  readonly config?: string;
  readonly since?: string;
  readonly until?: string;
  readonly probe?: readonly string[];
  readonly out?: string;
  readonly force?: true;
}

const ALL_TABLES = 'all';
const PHOTOS = 'photos';

const TABLES = Object.keys(exportRowSchemas) as readonly ExportName[];

/** The tables that were asked for, each with the file it goes to; no file: to the terminal. */
function asked(
  what: string,
  out: string | undefined,
  ending: string,
): readonly [ExportName, string | undefined][] {
  const table = TABLES.find((one) => one === what);
  if (table !== undefined) return [[table, out]];
  if (out === undefined)
    throw new BadWord('drybell export all writes a file for each table: say with --out into which folder');
  return TABLES.map((one) => [one, join(out, `${one}.${ending}`)]);
}

/** Photos of notes as files, each under the name that the notes' column `photo` has. */
async function writePhotos(
  config: FarmConfig,
  out: string | undefined,
  force: true | undefined,
): Promise<void> {
  if (out === undefined)
    throw new BadWord('drybell export photos writes files: say with --out into which folder');
  const shelf = new PhotoShelf(storeDocuments(config.store.folder), 0);
  const ids = await shelf.ids();
  const fileOf = (id: string): string => join(out, `${id}.jpg`);
  refuseReplacing(ids.map(fileOf), force);
  if (ids.length > 0) mkdirSync(out, { recursive: true });
  for (const id of ids) {
    const jpeg = await shelf.read(id);
    if (jpeg !== undefined) writeFileSync(fileOf(id), jpeg);
  }
}

async function writeTables(config: FarmConfig, what: string, options: ExportOptions): Promise<void> {
  const asJson = options.json === true || /\.jsonl$/i.test(options.out ?? '');
  const files = asked(what, options.out, asJson ? 'jsonl' : 'csv');
  refuseReplacing(
    files.flatMap(([, file]) => file ?? []),
    options.force,
  );
  const { say } = createSpeech(config);
  const queries = openReview(config);
  try {
    const span = await keptSpan(options, config.timeZone, queries);
    if (what === ALL_TABLES) mkdirSync(options.out ?? '', { recursive: true });
    for (const [table, file] of files) {
      // beside rows on the terminal a line of progress would only be in the way
      const progress = file === undefined ? undefined : showProgress(`${table} written`);
      const part = { span, say, probeIds: options.probe, onProgress: (share: number) => progress?.at(share) };
      const text = asJson ? exportJsonLines(queries, table, part) : exportCsv(queries, table, part);
      await writeOut(file, text).finally(() => progress?.end());
    }
    if (what === ALL_TABLES && options.out !== undefined)
      await writePhotos(config, join(options.out, PHOTOS), options.force);
  } finally {
    await queries.close();
  }
}

const EXAMPLES = `
Examples:
  drybell export readings --probe moist-celery temp-south --out readings.csv
  drybell export waterings --since 2026-04-01 --until 2026-05-01
  drybell export calls --json                     a JSON document a line, for scripts
  drybell export all --since 2026-03-01 --out season-2026
The tables: waterings, calls, alarms, rounds (every notice), round-doses (what was to be poured), questions, answers,
notes, photos (files into a folder), tray-events; dry-downs and their curve-samples; readings, forecasts, probe-drifts.
Columns and keys are the same, and stand in shared/schemas/export-NAME.schema.json. In words: drybell journal.`;

/** `drybell export`: what the store has as CSV or JSON lines, units in the names. */
export function register(program: Command): void {
  withForce(program.command('export'))
    .description('Write what the store has as CSV or JSON lines, units in the names; times are UTC.')
    .addArgument(new Argument('<what>', 'which table, or all').choices([...TABLES, PHOTOS, ALL_TABLES]))
    .option('--since <day>', 'from this day or instant on (a year before the newest when absent)')
    .option('--until <day>', 'up to this day or instant (now when absent)')
    .option('--probe <id...>', 'readings of these probes only')
    .option(
      '--out <file>',
      'file to write (the terminal when absent); .jsonl is JSON lines; with all a folder',
    )
    .option('--json', 'JSON lines instead of CSV, one document each')
    .option('--config <file>', 'configuration of the farm')
    .addHelpText('after', EXAMPLES)
    .action((what: string, options: ExportOptions) =>
      what === PHOTOS
        ? writePhotos(askedConfig(options.config), options.out, options.force)
        : writeTables(askedConfig(options.config), what, options),
    );
}
