import type { SizeCurves } from '../../../../../../shared/page/page-review.js';
import { numberWords } from '../../../texts/amounts/amounts.js';

const percent = (share: number | null): string => (share === null ? '' : numberWords(share * 100, 1));

/** The bands as rows of a table: one for each hour, four cells for each size; empty where a band has ended. */
export function bandRows(sizes: readonly SizeCurves[]): string[][] {
  const hours = [...new Set(sizes.flatMap((size) => size.band.map((point) => point.elapsedH)))].sort(
    (a, b) => a - b,
  );
  return hours.map((hour) => [
    String(hour),
    ...sizes.flatMap((size) => {
      const point = size.band.find((one) => one.elapsedH === hour);
      return point === undefined
        ? ['', '', '', '']
        : [
            percent(point.p10M3PerM3),
            percent(point.p50M3PerM3),
            percent(point.p90M3PerM3),
            String(point.curveCount),
          ];
    }),
  ]);
}
