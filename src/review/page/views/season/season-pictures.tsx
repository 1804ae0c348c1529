import type { UnitsConfig } from '../../../../../shared/config/notices.js';
import type { SeasonAnswer } from '../../../../../shared/page/page-season.js';
import { DataTable } from '../../draw/data-table.js';
import { evenTicks, hourTicks } from '../../draw/even-ticks.js';
import { Picture, type PictureSpec } from '../../draw/picture.js';
import { SaveRow } from '../../draw/save-row.js';
import { sizeInk } from '../../draw/size-inks.js';
import { useHouse } from '../../house/house.js';
import { numberWords, sizeWords } from '../../texts/amounts/amounts.js';
import type { Texts } from '../../texts/texts.js';
import type { NamedSeason } from './use-seasons.js';

const PICTURE_PX = 300;
const MOST_TICKS = 8;
const MARGIN_PCT = 3;
const REFILL_INK = '#96180b';

type SizeCourse = SeasonAnswer['sizes'][number];

interface OfSize {
  readonly blockSideMm: number;
  readonly courses: readonly { readonly name: string; readonly course: SizeCourse }[];
}

interface SeasonPicturesProps {
  readonly seasons: readonly NamedSeason[];
  readonly units: UnitsConfig;
}

/** One picture for each block size: its middle dry-down in each season. */
export function SeasonPictures({ seasons, units }: SeasonPicturesProps) {
  const { texts } = useHouse();
  const words = texts.season;
  const sides = [
    ...new Set(seasons.flatMap(({ answer }) => answer.sizes.map(({ blockSideMm }) => blockSideMm))),
  ].sort((a, b) => a - b);
  return (
    <section>
      <h2>{words.picturesTitle}</h2>
      <p class="lead">{words.steps}</p>
      {sides.map((blockSideMm) => {
        const courses = seasons.flatMap(({ name, answer }) => {
          const course = answer.sizes.find((one) => one.blockSideMm === blockSideMm);
          return course === undefined || course.middle.length < 2 ? [] : [{ name, course }];
        });
        return <SizeFigure key={blockSideMm} of={{ blockSideMm, courses }} units={units} />;
      })}
    </section>
  );
}

function SizeFigure({ of, units }: { readonly of: OfSize; readonly units: UnitsConfig }) {
  const { texts } = useHouse();
  const words = texts.season;
  const size = sizeWords(of.blockSideMm, units);
  if (of.courses.length === 0)
    return (
      <p class="hint">
        {size}: {words.tooFew}
      </p>
    );
  const spec = specOf(of, size, texts);
  const head = [
    texts.why.hours,
    ...of.courses.flatMap(({ name }) => [words.waterOf(name), words.behind(name)]),
  ];
  const rows = () => rowsOf(of);
  return (
    <figure>
      <figcaption>
        <b>{words.pictureLead(size)}</b>
      </figcaption>
      <Picture spec={spec} heightPx={PICTURE_PX} />
      <SaveRow
        name={`season-${Math.round(of.blockSideMm)}-mm`}
        of={words.pictureLead(size)}
        picture={spec}
        head={head}
        rows={rows}
      />
      <DataTable summary={texts.review.asTable} caption={spec.label} head={head} rows={rows} />
    </figure>
  );
}

function specOf({ courses }: OfSize, size: string, texts: Texts): PictureSpec {
  const refill = courses.find(({ course }) => course.refillPointM3PerM3 !== undefined)?.course
    .refillPointM3PerM3;
  const values = courses.flatMap(({ course }) => course.middle.map(({ p50M3PerM3 }) => p50M3PerM3 * 100));
  const levels = refill === undefined ? [] : [refill * 100];
  const y = {
    from: Math.max(0, Math.min(...values, ...levels) - MARGIN_PCT),
    to: Math.max(...values) + MARGIN_PCT,
  };
  const to = Math.max(...courses.flatMap(({ course }) => course.middle.map(({ elapsedH }) => elapsedH)));
  const tick = (at: number) => ({ at, words: numberWords(at, 0) });
  return {
    label: texts.season.pictureLabel(size, courses.map(({ name }) => name).join(', ')),
    x: { from: 0, to, label: texts.review.curves.hoursAxis, ticks: hourTicks(0, to, MOST_TICKS).map(tick) },
    y: { ...y, label: texts.review.curves.waterAxis, ticks: evenTicks(y.from, y.to, MOST_TICKS).map(tick) },
    lines: courses.map(({ name, course }, place) => ({
      points: course.middle.map(({ elapsedH, p50M3PerM3 }) => [elapsedH, p50M3PerM3 * 100] as const),
      ink: sizeInk(place).line,
      dash: sizeInk(place).dash,
      width: place === 0 ? 3.5 : 2,
      name,
    })),
    levels: levels.map((at) => ({ at, name: texts.review.curves.refillLine, ink: REFILL_INK })),
  };
}

function rowsOf({ courses }: OfSize): string[][] {
  const hours = [
    ...new Set(courses.flatMap(({ course }) => course.middle.map(({ elapsedH }) => elapsedH))),
  ].sort((a, b) => a - b);
  return hours.map((hour) => [
    numberWords(hour, 0),
    ...courses.flatMap(({ course }) => {
      const point = course.middle.find(({ elapsedH }) => elapsedH === hour);
      return point === undefined
        ? ['', '']
        : [numberWords(point.p50M3PerM3 * 100, 1), numberWords(point.curveCount, 0)];
    }),
  ]);
}
