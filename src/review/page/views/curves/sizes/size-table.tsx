import type { UnitsConfig } from '../../../../../../shared/config/notices.js';
import type { PageHoursEstimate, SizeCurves } from '../../../../../../shared/page/page-review.js';
import { Table } from '../../../draw/data-table.js';
import { useHouse } from '../../../house/house.js';
import { numberWords, waterWords } from '../../../texts/amounts/amounts.js';

interface SizeTableProps {
  readonly sizes: readonly SizeCurves[];
  readonly names: readonly string[];
  readonly units: UnitsConfig;
}

const whole = (hours: number): string => numberWords(hours, hours < 10 ? 1 : 0);

/** Hours to refill, rounds, water, and how often a tray went wrong, one row for each size. */
export function SizeTable({ sizes, names, units }: SizeTableProps) {
  const { texts } = useHouse();
  const words = texts.review.curves;
  const { columns } = words;
  const estimate = ({ hours, lowHours, highHours }: PageHoursEstimate, longestH: number): string => {
    if (hours === null) return words.longer(whole(longestH));
    const range =
      lowHours === null || highHours === null ? '' : ` (${words.between(whole(lowHours), whole(highHours))})`;
    return `${whole(hours)}${range}`;
  };
  return (
    <div>
      <h2>{words.tableTitle}</h2>
      <Table
        caption={words.tableTitle}
        head={Object.values(columns)}
        rows={sizes.map((size, place) => [
          names[place] ?? '',
          String(size.dryDownCount),
          String(size.reachedCount),
          estimate(size.hoursToRefill.p10, size.longestH),
          estimate(size.hoursToRefill.p50, size.longestH),
          estimate(size.hoursToRefill.p90, size.longestH),
          size.roundsPerDay === null ? texts.review.unknown : numberWords(size.roundsPerDay, 1),
          size.waterPerTrayDayMl === null ? texts.review.unknown : waterWords(size.waterPerTrayDayMl, units),
          String(size.tooDryCount),
          String(size.tooWetCount),
        ])}
      />
      <p class="hint">{words.censored}</p>
    </div>
  );
}
