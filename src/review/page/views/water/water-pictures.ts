import type { UnitsConfig } from '../../../../../shared/config/notices.js';
import type { WaterAnswer } from '../../../../../shared/page/page-review.js';
import { evenTicks } from '../../draw/even-ticks.js';
import type { PictureSpec } from '../../draw/picture.js';
import { sizeInk } from '../../draw/size-inks.js';
import { waterWords } from '../../texts/amounts/amounts.js';
import type { WaterSums } from './water-sums.js';

const MOST_TICKS = 6;
/** Share of a day's room that its column takes. */
const COLUMN_SHARE = 0.84;
const DROP_INK = '#0a4a70';
const LARGEST_DROP_PX = 11;

interface Words {
  readonly label: string;
  /** Name of the columns: days, or weeks. */
  readonly column: string;
  readonly day: (day: string) => string;
}

function dayTicks({ columns }: WaterSums, day: Words['day']): { at: number; words: string }[] {
  const step = Math.ceil(columns.length / MOST_TICKS);
  return columns.flatMap(({ fromDay }, place) =>
    place % step === 0 ? [{ at: place + 0.5, words: day(fromDay) }] : [],
  );
}

/** Water of each day or week by block size, as a drawing that can be kept. */
export function columnsPicture(
  sums: WaterSums,
  names: readonly string[],
  units: UnitsConfig,
  words: Words,
): PictureSpec {
  const most = Math.max(...sums.columns.map(({ ml }) => ml), 1);
  return {
    label: words.label,
    x: { from: 0, to: sums.columns.length, label: words.column, ticks: dayTicks(sums, words.day) },
    y: {
      from: 0,
      to: most,
      label: '',
      ticks: evenTicks(0, most, MOST_TICKS).map((at) => ({ at, words: waterWords(at, units) })),
    },
    areas: sums.columns.flatMap((column, place) => {
      let low = 0;
      const [left, right] = [place + (1 - COLUMN_SHARE) / 2, place + (1 + COLUMN_SHARE) / 2];
      return sums.sizes.flatMap((size, rank) => {
        const ml = column.mlBySize.get(size) ?? 0;
        if (ml === 0) return [];
        const [from, to] = [low, low + ml];
        low = to;
        const points = [
          [left, from],
          [right, from],
          [right, to],
          [left, to],
        ] as const;
        return [{ points, fill: sizeInk(rank).line }];
      });
    }),
    lines: [],
    key: names.map((name, rank) => ({ name, ink: sizeInk(rank).line })),
  };
}

/** Water of each tray on each day, as a drawing that can be kept; the area of a drop is its water. */
export function dropsPicture({ trays }: WaterAnswer, sums: WaterSums, words: Words): PictureSpec {
  const most = Math.max(...sums.columns.flatMap(({ mlByTray }) => [...mlByTray.values()]), 1);
  const rowOf = (place: number): number => trays.length - place - 0.5;
  return {
    label: words.label,
    x: { from: 0, to: sums.columns.length, label: words.column, ticks: dayTicks(sums, words.day) },
    y: {
      from: 0,
      to: Math.max(1, trays.length),
      label: '',
      ticks: trays.map(({ id }, place) => ({ at: rowOf(place), words: id })),
    },
    lines: [],
    dots: trays.flatMap(({ id }, row) =>
      sums.columns.flatMap(({ mlByTray }, column) => {
        const ml = mlByTray.get(id) ?? 0;
        const radiusPx = Math.sqrt(ml / most) * LARGEST_DROP_PX;
        return ml === 0 ? [] : [{ at: [column + 0.5, rowOf(row)] as const, radiusPx, ink: DROP_INK }];
      }),
    ),
  };
}
