import type { UnitsConfig } from '../../../../../shared/config/notices.js';
import type { PageHoursEstimate } from '../../../../../shared/page/page-review.js';
import { Table } from '../../draw/data-table.js';
import { SaveRow } from '../../draw/save-row.js';
import { useHouse } from '../../house/house.js';
import {
  numberWords,
  percentWords,
  sizeWords,
  temperatureWords,
  waterWords,
} from '../../texts/amounts/amounts.js';
import type { Texts } from '../../texts/texts.js';
import type { NamedSeason } from './use-seasons.js';

interface SeasonTablesProps {
  readonly seasons: readonly NamedSeason[];
  readonly units: UnitsConfig;
}

/** The farm season by season, and each block size with each crop. */
export function SeasonTables({ seasons, units }: SeasonTablesProps) {
  const { texts } = useHouse();
  const words = texts.season;
  const unknown = seasons.reduce((sum, { answer }) => sum + answer.unknownCount, 0);
  const farmHead = Object.values(words.columns);
  const farmRows = seasons.map((season) => farmRow(season, texts, units));
  const rowHead = Object.values(words.rowColumns);
  const rows = sizeRows(seasons, texts, units);
  return (
    <>
      <section>
        <h2>{words.farmTitle}</h2>
        <Table caption={words.farmTitle} head={farmHead} rows={farmRows} />
        <p class="hint">{words.lost}</p>
        {unknown > 0 && <p class="hint">{words.unknown(unknown)}</p>}
        <SaveRow name="seasons" of={words.farmTitle} head={farmHead} rows={() => farmRows} />
      </section>
      <section>
        <h2>{words.rowsTitle}</h2>
        <p class="lead">{words.rowsLead}</p>
        <Table caption={words.rowsTitle} head={rowHead} rows={rows} />
        <SaveRow name="sizes-and-crops" of={words.rowsTitle} head={rowHead} rows={() => rows} />
      </section>
    </>
  );
}

const count = (value: number): string => numberWords(value, 0);

function farmRow({ name, answer }: NamedSeason, texts: Texts, units: UnitsConfig): string[] {
  const { insideShare, decidedCount } = answer.cameTrue;
  return [
    name,
    count(answer.trayCount),
    count(answer.endedCount),
    count(answer.roundCount),
    count(answer.wateringCount),
    waterWords(answer.ml, units),
    count(answer.callCount),
    count(answer.tooDryCount),
    count(answer.tooWetCount),
    insideShare === null
      ? texts.review.cameTrue.tooFew
      : texts.season.trueOf(percentWords(insideShare), count(decidedCount)),
  ];
}

/** One row for each size, crop and season; those of one size and crop stand together. */
function sizeRows(seasons: readonly NamedSeason[], texts: Texts, units: UnitsConfig): string[][] {
  const keyed = seasons.flatMap(({ name, crop, answer }) =>
    answer.rows.map((row) => ({ name, isCrop: crop !== undefined, row })),
  );
  const order = [...keyed].sort(
    (a, b) =>
      a.row.blockSideMm - b.row.blockSideMm ||
      (a.row.crop ?? '').localeCompare(b.row.crop ?? '', texts.locale),
  );
  const orUnknown = (value: number | null, write: (value: number) => string): string =>
    value === null ? texts.review.unknown : write(value);
  return order.map(({ name, isCrop, row }) => [
    [
      sizeWords(row.blockSideMm, units),
      // a crop's own time has its name already
      ...(isCrop ? [] : [row.crop ?? texts.season.noCrop]),
      name,
    ].join(', '),
    count(row.trayCount),
    count(row.dryDownCount),
    middleWords(row.hoursToRefill, row.longestH, texts),
    orUnknown(row.meanTemperatureC, (value) => temperatureWords(value, units)),
    orUnknown(row.meanVpdKPa, (value) => numberWords(value, 2)),
    orUnknown(row.meanSolarWPerM2, count),
    count(row.wateringCount),
    waterWords(row.ml, units),
    count(row.tooDryCount),
    count(row.tooWetCount),
  ]);
}

function middleWords(
  { hours, lowHours, highHours }: PageHoursEstimate,
  longestH: number,
  texts: Texts,
): string {
  const words = texts.review.curves;
  const whole = (value: number): string => numberWords(value, value < 10 ? 1 : 0);
  if (hours === null) return words.longer(whole(longestH));
  if (lowHours === null || highHours === null) return whole(hours);
  return `${whole(hours)} (${words.between(whole(lowHours), whole(highHours))})`;
}
