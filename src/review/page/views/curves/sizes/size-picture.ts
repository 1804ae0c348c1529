import type { SizeCurves } from '../../../../../../shared/page/page-review.js';
import { evenTicks, hourTicks } from '../../../draw/even-ticks.js';
import type { PictureSpec, Point } from '../../../draw/picture.js';
import { sizeInk } from '../../../draw/size-inks.js';
import { numberWords } from '../../../texts/amounts/amounts.js';
import type { Texts } from '../../../texts/texts.js';

const MOST_TICKS = 12;
const MARGIN_PCT = 3;
/** Bands on paper are pale enough to be seen through one another. */
const BAND_OPACITY = '33';

/** The curves of all sizes as a drawing that can be kept; undefined where there is none. */
export function sizePicture(
  sizes: readonly SizeCurves[],
  names: readonly string[],
  texts: Texts,
): PictureSpec | undefined {
  const drawn = sizes.map((size, place) => ({ size, ink: sizeInk(place), name: names[place] ?? '' }));
  const points = sizes.flatMap(({ band }) => band);
  if (points.length === 0) return undefined;
  const refills = drawn.flatMap(({ size, ink, name }) =>
    size.refillPointM3PerM3 === undefined
      ? []
      : [
          {
            at: size.refillPointM3PerM3 * 100,
            name: `${texts.review.curves.refillLine}, ${name}`,
            ink: ink.line,
          },
        ],
  );
  const values = [
    ...points.flatMap(({ p10M3PerM3, p90M3PerM3 }) => [(p10M3PerM3 ?? p90M3PerM3) * 100, p90M3PerM3 * 100]),
    ...refills.map(({ at }) => at),
  ];
  const y = { from: Math.max(0, Math.min(...values) - MARGIN_PCT), to: Math.max(...values) + MARGIN_PCT };
  const to = Math.max(...points.map(({ elapsedH }) => elapsedH));
  const tick = (at: number) => ({ at, words: numberWords(at, 0) });
  return {
    label: texts.review.curves.plotLabel(names.join(', ')),
    x: { from: 0, to, label: texts.review.curves.hoursAxis, ticks: hourTicks(0, to, MOST_TICKS).map(tick) },
    y: { ...y, label: texts.review.curves.waterAxis, ticks: evenTicks(y.from, y.to, MOST_TICKS).map(tick) },
    areas: drawn.map(({ size, ink }) => ({ points: bandOutline(size), fill: `${ink.line}${BAND_OPACITY}` })),
    lines: drawn.map(({ size, ink, name }) => ({
      points: size.band.map(({ elapsedH, p50M3PerM3 }): Point => [elapsedH, p50M3PerM3 * 100]),
      ink: ink.line,
      dash: ink.dash,
      width: 3,
      name,
    })),
    levels: refills,
  };
}

/** Along the wet edge and back along the dry one, as far as that is known. */
function bandOutline({ band }: SizeCurves): readonly Point[] {
  const known = band.flatMap(({ elapsedH, p10M3PerM3, p90M3PerM3 }) =>
    p10M3PerM3 === null ? [] : [{ elapsedH, dry: p10M3PerM3 * 100, wet: p90M3PerM3 * 100 }],
  );
  return [
    ...known.map(({ elapsedH, wet }): Point => [elapsedH, wet]),
    ...known.reverse().map(({ elapsedH, dry }): Point => [elapsedH, dry]),
  ];
}
