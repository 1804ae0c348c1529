import { type Command, InvalidArgumentError, Option } from 'commander';
import { IANAZone } from 'luxon';
import { toInstant } from '../../../../shared/base/ids.js';
import type { LookReport } from '../../../../shared/cli-reports.js';
import type { ProbeKind } from '../../../../shared/config/kit/probes.js';
import { refillHoursBySize } from '../../../drying/curves/refill-hours.js';
import { cameTrueAnswer } from '../../../review/server/views/came-true-answer.js';
import { farmCalendar } from '../../../review/server/views/farm-calendar.js';
import { startPage } from '../../../review/start-page.js';
import { StoreFeed } from '../../../review/store-feed/store-feed.js';
import { openSqliteReview } from '../../../store/sqlite/open-sqlite-review.js';
import { createSpeech } from '../../../watering/sentences/speech.js';
import { LookError } from '../../../worlds/look/cells/look-error.js';
import { type FileUnit, unitIn } from '../../../worlds/look/cells/units.js';
import { readFiles } from '../../../worlds/look/read-files.js';
import type { RecogniseOptions } from '../../../worlds/look/recognise.js';
import { unitsHere } from '../../config/asked-config.js';
import { createLog } from '../../program/log.js';
import { realClock } from '../../program/real-clock.js';
import { stopSignal } from '../../program/stop-signal.js';
import { printJson, withJson } from '../../terminal/json-option.js';
import { showProgress } from '../../terminal/progress.js';
import { expectedSide, isBlockSide, sideMmOf } from '../../terminal/typed/block-side.js';
import { refillTable } from '../told/refill-table.js';
import { type LookedFarm, lookFiles } from './look-files.js';
import { cameTrueLine, levelLines, onClock, recognisedLines, uncalibratedLines } from './look-words.js';

type Columns = ReadonlyMap<string, { readonly kind: ProbeKind; readonly unit: FileUnit | undefined }>;

interface LookOptions {
  readonly zone?: string;
  readonly dateOrder?: 'dmy' | 'mdy' | 'ymd';
  readonly decimal?: '.' | ',';
  readonly column?: Columns;
  readonly side?: number;
  readonly keep?: string;
  readonly json?: true;
  readonly page: boolean;
  readonly port: number;
}

const KINDS: readonly ProbeKind[] = [
  'air-temperature',
  'relative-humidity',
  'light',
  'block-moisture',
  'tray-weight',
];
const USUAL_SIDE_MM = 38;
/** The picture stands still: nothing new comes into a file. */
const LOOK_EVERY_MS = 3_600_000;

function readColumn(text: string, before: Columns = new Map()): Columns {
  const [, name = '', kind = '', unitText] = /^(.+)=([a-z-]+)(?::(.+))?$/.exec(text) ?? [];
  const known = KINDS.find((one) => one === kind);
  const unit = unitText === undefined ? undefined : unitIn(unitText);
  if (known === undefined || (unitText !== undefined && unit === undefined))
    throw new InvalidArgumentError(
      `expected NAME=KIND or NAME=KIND:UNIT, KIND one of ${KINDS.join(', ')}; such as "Soil 1=block-moisture:%"`,
    );
  return new Map([...before, [name.trim(), { kind: known, unit }]]);
}

/** In mm; a bare number is in the unit of the farm in this folder. */
function readSide(text: string): number {
  const units = unitsHere();
  const sideMm = sideMmOf(text, units);
  if (sideMm === undefined || !isBlockSide(sideMm))
    throw new InvalidArgumentError(`expected ${expectedSide(units)}`);
  return sideMm;
}

function readPort(text: string): number {
  const port = Number(text);
  if (!Number.isInteger(port) || port < 0 || port > 65_535)
    throw new InvalidArgumentError('expected a port from 0 to 65535');
  return port;
}

function readZone(text: string): string {
  if (!IANAZone.isValidZone(text))
    throw new InvalidArgumentError('expected an IANA time zone such as Europe/Berlin');
  return text;
}

function reportOf(looked: LookedFarm, zone: string): LookReport {
  const { series, summary } = looked;
  return {
    time: { from: toInstant(looked.fromMs), to: toInstant(looked.toMs), zone },
    series: series.map(({ column, kind, unit, values, atMs }) => ({
      column,
      kind,
      unit,
      readings: values.length,
      from: toInstant(atMs[0] ?? 0),
      to: toInstant(atMs.at(-1) ?? 0),
      least: values.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY),
      most: values.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY),
    })),
    dryDowns: summary.dryDowns,
  };
}

/** The page on the file's store, which stands at the last reading when that is past; until Ctrl-C. */
async function showPage(looked: LookedFarm, port: number): Promise<void> {
  const queries = openSqliteReview({ folder: looked.storeFolder });
  const log = createLog('warn');
  try {
    const feed = await StoreFeed.open({
      config: looked.config,
      queries,
      nowMs: () => Math.max(looked.toMs, realClock.nowMs()),
      lookEveryMs: LOOK_EVERY_MS,
      complain: (cause) => log.warn({ err: cause }, 'store-not-read'),
    });
    try {
      const page = await startPage({
        config: looked.config,
        queries,
        live: feed,
        listenHost: '127.0.0.1',
        listenPort: port,
      });
      console.log(`The page of it: ${page.address} (Ctrl-C ends it)`);
      await stopSignal(() => undefined);
      await page.close();
    } finally {
      feed.close();
    }
  } finally {
    await queries.close();
  }
}

async function tell(looked: LookedFarm, options: LookOptions): Promise<void> {
  const { summary, fromMs, toMs, farm } = looked;
  const zone = looked.config.timeZone;
  const span = { fromMs, toMs: toMs + 1 };
  const { words } = createSpeech({ timeZone: zone, units: unitsHere() });
  const queries = openSqliteReview({ folder: looked.storeFolder });
  try {
    const dryDowns = await queries.dryDowns(span);
    console.log(`\n${summary.readings} readings from ${onClock(fromMs, zone)} to ${onClock(toMs, zone)}`);
    for (const line of [...levelLines(farm), ...uncalibratedLines(looked.series)]) console.log(line);
    if (farm.config.trays.length > 0 && options.side === undefined)
      console.log(
        `blocks of ${words.side(USUAL_SIDE_MM)} are taken, which no file says; other ones: --side mini, --side 2in`,
      );
    console.log(
      `${summary.waterings.detected} waterings seen, ${summary.dryDowns} dry-downs, ${summary.forecasts} forecasts`,
    );
    if (dryDowns.length > 0) {
      const { all } = await cameTrueAnswer(queries, span, {}, farmCalendar(zone));
      console.log(`${cameTrueLine(all)}\n\n${refillTable(refillHoursBySize(dryDowns), words)}`);
    }
    if (farm.config.trays.length === 0)
      console.log('No moisture and no weight in it: there are curves of the air, and no tray to forecast.');
    if (looked.isKept)
      console.log(
        `\nKept in ${looked.folder}: drybell.jsonc to go on with, readings.csv, results, data. In that folder: drybell curves, drybell export all --out season, drybell review`,
      );
    else console.log('\nNothing of it is kept; --keep FOLDER keeps configuration, readings and store.');
  } finally {
    await queries.close();
  }
}

async function look(names: readonly string[], options: LookOptions): Promise<void> {
  const asked: RecogniseOptions = {
    zone: options.zone,
    machineZone: Intl.DateTimeFormat().resolvedOptions().timeZone,
    order: options.dateOrder,
    decimal: options.decimal,
    told: options.column,
  };
  const files = readFiles(names, asked);
  for (const name of options.column?.keys() ?? [])
    if (!files.some(({ found }) => found.series.some(({ column }) => column === name)))
      throw new LookError(
        'bad-option',
        `--column "${name}": no column of that name holds numbers; there are ${files
          .flatMap(({ found }) => [...found.series, ...found.left])
          .map(({ column }) => `"${column}"`)
          .join(', ')}`,
      );
  const zone = files[0]?.found.time.zone ?? 'UTC';
  if (options.json !== true)
    for (const { file, found } of files) {
      if (files.length > 1) console.log(file);
      for (const line of recognisedLines(found)) console.log(line);
    }
  const progress = showProgress('the readings played');
  const looked = await lookFiles(files, {
    zone: options.zone ?? zone,
    machineZone: asked.machineZone,
    blockSideMm: options.side ?? USUAL_SIDE_MM,
    keep: options.keep,
    onProgress: (share) => progress.at(share),
  }).finally(() => progress.end());
  try {
    if (options.json === true) {
      printJson(reportOf(looked, zone));
      return;
    }
    await tell(looked, options);
    if (options.page) await showPage(looked, options.port);
  } finally {
    looked.remove();
  }
}

const EXAMPLES = `
Examples:
  drybell look logger.csv                               what is in it, how fast it dried, and a page to look at
  drybell look logger.csv --zone Europe/Berlin          its clock shows this zone
  drybell look april.csv may.csv --keep my-bench        several files of one logger; keep a configuration to go on with
  drybell look logger.csv --column "Ch 3=block-moisture:%" --side 51mm
  drybell look logger.csv --json                        for scripts

Recognised by themselves: delimiter, decimal comma, quotes, encoding, header and units, date order, 12-hour clock, counts of
seconds and of days, newest first, one probe a column or one a row. What can't be told apart is refused with what to say.`;

/** `drybell look`: a logger's file as it comes becomes dry-downs, a forecast and a page, without configuration or monitor. */
export function register(program: Command): void {
  withJson(program.command('look'), 'look-report')
    .description("Look at a logger's file: what it holds, how fast it dried, and the page of it.")
    .argument('<files...>', 'CSV or text as the logger wrote it')
    .option('--zone <name>', "zone of the logger's clock, where the file does not say it", readZone)
    .addOption(
      new Option('--date-order <order>', 'which number of a date is the day').choices(['dmy', 'mdy', 'ymd']),
    )
    .addOption(new Option('--decimal <mark>', 'decimal mark of its numbers').choices(['.', ',']))
    .option(
      '--column <name=kind>',
      'what a column is, NAME=KIND or NAME=KIND:UNIT; may be given often',
      readColumn,
    )
    .option(
      '--side <size>',
      `side of the blocks, which no file says: mini, 38mm, 2in (${USUAL_SIDE_MM}mm when absent)`,
      readSide,
    )
    .option('--keep <folder>', 'keep configuration, readings, results and store in this new folder')
    .option('--no-page', 'end without serving the page')
    .option('--port <number>', "the page's port; 0 is any free one", readPort, 0)
    .addHelpText('after', EXAMPLES)
    .action(look);
}
