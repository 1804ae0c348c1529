import { type Command, InvalidArgumentError, Option } from 'commander';
import { DateTime } from 'luxon';
import { toInstant } from '../../../shared/base/ids.js';
import type { CurvesReport } from '../../../shared/cli-reports.js';
import {
  type CurveFilter,
  filterDryDowns,
  VPD_CLASSES,
  type VpdClass,
} from '../../drying/curves/curve-filter.js';
import type { KeptDryDown } from '../../drying/curves/kept-dry-down.js';
import { refillHoursBySize } from '../../drying/curves/refill-hours.js';
import { bandsCsv, sizeBands } from '../../store/exports/curve-bands.js';
import { curvesSvg } from '../../store/exports/curves-svg.js';
import { createSpeech } from '../../watering/sentences/speech.js';
import { didYouMean } from '../../watering/sentences/words/did-you-mean.js';
import type { FarmWords } from '../../watering/sentences/words/farm-words.js';
import { SAME_SIZE_MM } from '../../watering/trays/usual-block-count.js';
import { askedConfig } from '../config/asked-config.js';
import { refuseReplacing, withForce } from '../program/may-write.js';
import { writeOut } from '../program/write-out.js';
import { openReview } from '../running/house-parts/open-review.js';
import { printJson, withJson } from '../terminal/json-option.js';
import { BadWord } from '../terminal/typed/bad-word.js';
import { readSideMm } from '../terminal/typed/block-side.js';
import { keptSpan } from './told/kept-span.js';
import { refillTable } from './told/refill-table.js';

interface CurvesOptions {
  readonly config?: string;
  readonly since?: string;
  readonly until?: string;
  readonly size?: string;
  readonly bench?: string;
  readonly crop?: string;
  readonly month?: readonly number[];
  readonly vpd?: VpdClass;
  readonly stage?: 'germinating' | 'growing';
  readonly out?: string;
  readonly force?: true;
  readonly json?: true;
}

function numberList(name: string, low: number, high: number): (text: string) => readonly number[] {
  return (text) =>
    text.split(',').map((part) => {
      const value = Number(part);
      if (part.trim() === '' || !(value >= low && value <= high))
        throw new InvalidArgumentError(
          `expected ${name} from ${low} to ${high}, several with commas between`,
        );
      return value;
    });
}

function filterOf({ bench, crop, month, vpd, stage }: CurvesOptions): CurveFilter {
  return { benchId: bench, crop, months: month, vpdClass: vpd, stage };
}

/** What the plot says it shows. */
function subtitle(options: CurvesOptions, timeZone: string, fromMs: number, toMs: number): string {
  const day = (atMs: number) => DateTime.fromMillis(atMs, { zone: timeZone }).toISODate();
  const months = options.month?.map((month) => DateTime.local(2000, month).toFormat('LLLL')).join(', ');
  const vpd = VPD_CLASSES.find(({ id }) => id === options.vpd);
  return [
    options.bench === undefined ? 'all benches' : `bench ${options.bench}`,
    `${day(fromMs)} to ${day(toMs)}`,
    options.crop,
    months,
    vpd === undefined
      ? undefined
      : Number.isFinite(vpd.belowKPa)
        ? `VPD ${vpd.fromKPa} to ${vpd.belowKPa} kPa`
        : `VPD above ${vpd.fromKPa} kPa`,
    options.stage,
  ]
    .filter((part) => part !== undefined)
    .join(', ');
}

function draw(out: string, dryDowns: readonly KeptDryDown[], about: string, words: FarmWords): string {
  const bands = sizeBands(dryDowns);
  if (out.endsWith('.csv')) return bandsCsv(bands);
  return curvesSvg(bands, { title: 'How the blocks dry', subtitle: about, side: words.side });
}

/** Refuses a name that neither the configuration nor a dry-down knows; one that is known may have nothing to show. */
function refuseUnknown(option: string, name: string | undefined, known: readonly string[]): void {
  const names = [...new Set(known)];
  if (name === undefined || names.includes(name)) return;
  throw new BadWord(
    `${option} "${name}": nothing of that name in this time.${didYouMean(name, names)} There are: ${names.join(', ') || 'none'}.`,
  );
}

async function curves(options: CurvesOptions): Promise<void> {
  const { out } = options;
  if (out !== undefined && !/\.(svg|csv)$/.test(out))
    throw new InvalidArgumentError(`--out ${out}: expected a name that ends in .svg or .csv`);
  if (out !== undefined) refuseReplacing([out], options.force);
  const config = askedConfig(options.config);
  const words = createSpeech({ timeZone: config.timeZone, units: config.units }).words;
  const sizesMm = options.size?.split(',').map((size) => readSideMm(size, config.units, '--size'));
  const queries = openReview(config);
  try {
    const span = await keptSpan(options, config.timeZone, queries);
    const monthOf = (atMs: number) => DateTime.fromMillis(atMs, { zone: config.timeZone }).month;
    const ended = await queries.dryDowns(span);
    refuseUnknown('--bench', options.bench, [
      ...config.benches.map(({ id }) => id),
      ...ended.flatMap(({ benchId }) => benchId ?? []),
    ]);
    refuseUnknown('--crop', options.crop, [
      ...config.trays.flatMap(({ crop }) => crop ?? []),
      ...ended.flatMap(({ crop }) => crop ?? []),
    ]);
    const fitting = filterDryDowns(ended, filterOf(options), monthOf).filter(
      ({ blockSideMm }) =>
        sizesMm === undefined ||
        sizesMm.some((sideMm) => Math.abs(sideMm - (blockSideMm ?? 0)) <= SAME_SIZE_MM),
    );
    const about = subtitle(options, config.timeZone, span.fromMs, span.toMs);
    if (options.json === true) {
      const sizes = refillHoursBySize(fitting);
      printJson({
        from: toInstant(span.fromMs),
        to: toInstant(span.toMs),
        sizes: [...sizes],
      } satisfies CurvesReport);
      return;
    }
    if (fitting.length === 0) console.error(`No dry-down ended in this time that fits (${about}).`);
    else if (out === undefined) console.log(`${refillTable(refillHoursBySize(fitting), words)}\n`);
    if (out !== undefined) await writeOut(out, [draw(out, fitting, about, words)]);
  } finally {
    await queries.close();
  }
}

const EXAMPLES = `
Examples:
  drybell curves                                                     hours to refill by block size
  drybell curves --since 2026-04-01 --size mini,38mm --out curves.svg
  drybell curves --bench south --crop celery --month 4,5 --vpd dry
  drybell curves --stage germinating --out curves.csv`;

/** `drybell curves`: drying curves per block size. */
export function register(program: Command): void {
  withJson(withForce(program.command('curves')), 'curves-report')
    .description('Compare how block sizes dry: a table of hours to refill, or curves as .svg or .csv.')
    .option(
      '--since <day>',
      'dry-downs that ended from this day or instant on (a year before the newest when absent)',
    )
    .option('--until <day>', 'up to this day or instant (now when absent)')
    .option('--size <sides>', 'block sizes such as mini, 38mm, 2in; several with commas between')
    .option('--bench <id>', 'this bench only')
    .option('--crop <name>', 'this crop only')
    .option('--month <n>', 'watered in these months, 1 to 12', numberList('months', 1, 12))
    .addOption(
      new Option('--vpd <class>', 'mean vapour pressure deficit').choices(VPD_CLASSES.map(({ id }) => id)),
    )
    .addOption(
      new Option('--stage <stage>', 'before or after germination').choices(['germinating', 'growing']),
    )
    .option('--out <file>', 'curves.svg or curves.csv (the table on the terminal when absent)')
    .option('--config <file>', 'configuration of the farm')
    .addHelpText('after', EXAMPLES)
    .action((options: CurvesOptions) => curves(options));
}
