import type { SizeCurves } from '../../../../../../shared/page/page-review.js';
import { Table } from '../../../draw/data-table.js';
import { useHouse } from '../../../house/house.js';

/** Hours at which the dry-downs behind the lines are counted: each about double the one before (judgement). */
const COUNTED_AT_H = [0, 3, 6, 12, 24, 48, 96];

/** How many dry-downs stand behind each stretch of the lines; empty from where a line has ended. */
export function StillDrying({
  sizes,
  names,
}: {
  readonly sizes: readonly SizeCurves[];
  readonly names: readonly string[];
}) {
  const { texts } = useHouse();
  const words = texts.review.curves;
  const countAt = (size: SizeCurves, hour: number): string =>
    String(size.band.find(({ elapsedH }) => elapsedH === hour)?.curveCount ?? '');
  const hours = COUNTED_AT_H.filter((hour) => sizes.some((size) => countAt(size, hour) !== ''));
  if (hours.length === 0) return null;
  return (
    <Table
      caption={words.stillDrying}
      head={[words.stillDrying, ...hours.map(words.afterH)]}
      rows={sizes.map((size, place) => [names[place] ?? '', ...hours.map((hour) => countAt(size, hour))])}
    />
  );
}
