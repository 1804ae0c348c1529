import { MS_PER_HOUR } from '../../../../../shared/base/time-units.js';
import type { WaterCourse, WhyAnswer } from '../../../../../shared/page/page-why.js';
import { evenTicks, hourTicks } from '../../draw/even-ticks.js';
import type { PictureSpec, Point } from '../../draw/picture.js';
import { numberWords } from '../../texts/amounts/amounts.js';
import type { FarmClockWords } from '../../texts/farm-clock.js';
import type { Texts } from '../../texts/texts.js';
import { drawnH } from './hour-words.js';

const MOST_X_TICKS = 8;
const MOST_Y_TICKS = 6;
const REFILL_INK = '#96180b';
const NOW_INK = '#0a4a70';
const FAN_INK = '#8a4b00';
const FAN_FILL = '#efd39a';
const BEFORE_INKS = ['#6b3f1d', '#7a2f7a', '#4a3d31'];
const BEFORE_DASHES = [
  [8, 3],
  [3, 3],
  [10, 3, 2, 3],
];
/** Water that is shown above and below what is drawn, % of the block. */
const MARGIN_PCT = 3;
/** What came before a forecast is shown for so long, h. */
const BEFORE_FAN_H = 12;

const points = (course: WaterCourse, fromMs = Date.parse(course.from)): Point[] =>
  course.elapsedH.map((hours, place) => [
    hours + (Date.parse(course.from) - fromMs) / MS_PER_HOUR,
    (course.waterContentM3PerM3[place] ?? 0) * 100,
  ]);

function yAxis(
  lines: readonly (readonly Point[])[],
  levels: readonly number[],
  label: string,
): PictureSpec['y'] {
  const values = [...lines.flatMap((line) => line.map(([, y]) => y)), ...levels];
  const from = Math.max(0, Math.min(...values) - MARGIN_PCT);
  const to = Math.max(...values) + MARGIN_PCT;
  return {
    from,
    to,
    label,
    ticks: evenTicks(from, to, MOST_Y_TICKS).map((at) => ({ at, words: numberWords(at, 0) })),
  };
}

const xAxis = (from: number, to: number, label: string): PictureSpec['x'] => ({
  from,
  to,
  label,
  ticks: hourTicks(from, to, MOST_X_TICKS).map((at) => ({ at, words: numberWords(at, 0) })),
});

function levelsOf(refill: number | undefined, texts: Texts): NonNullable<PictureSpec['levels']> {
  return refill === undefined ? [] : [{ at: refill * 100, name: texts.review.tray.refill, ink: REFILL_INK }];
}

/** The forecast as a fan to the refill point, and over it what came; undefined where there is no forecast to hold against anything. */
export function fanPicture(answer: WhyAnswer, clock: FarmClockWords, texts: Texts): PictureSpec | undefined {
  const { fan, now, refillPointM3PerM3: refill, at, tray } = answer;
  if (fan === undefined || now === undefined || refill === undefined) return undefined;
  const madeMs = Date.parse(fan.madeAt);
  const came = points(now, madeMs).filter(([hours]) => hours >= -BEFORE_FAN_H);
  const start: Point = [0, fan.waterContentM3PerM3 * 100];
  const end = (hours: number | null): Point => [drawnH(hours), refill * 100];
  const lastH = Math.max(...came.map(([hours]) => hours));
  const when = clock.when(madeMs, Date.parse(at));
  const { levels, words } = { levels: levelsOf(refill, texts), words: texts.why };
  return {
    label: words.fanLabel(tray, when),
    x: xAxis(
      Math.min(0, ...came.map(([hours]) => hours)),
      Math.max(lastH, drawnH(fan.p90H)),
      words.hoursAfter(when),
    ),
    y: yAxis([came, [start]], [refill * 100], texts.review.curves.waterAxis),
    areas: [{ points: [start, end(fan.p10H), end(fan.p90H)], fill: FAN_FILL }],
    lines: [
      { points: [start, end(fan.p50H)], ink: FAN_INK, width: 2, dash: [6, 4] },
      { points: came, ink: NOW_INK, width: 3, name: words.came },
    ],
    levels,
  };
}

/** This dry-down and the last ones before it, each from its watering. */
export function dryDownPicture(
  answer: WhyAnswer,
  clock: FarmClockWords,
  texts: Texts,
): PictureSpec | undefined {
  const { now, before, refillPointM3PerM3: refill, tray } = answer;
  if (before.length === 0) return undefined;
  const current = now === undefined ? [] : points(now);
  const older = before.map((course) => points(course));
  const longest = Math.max(...[current, ...older].flatMap((line) => line.map(([hours]) => hours)));
  const levels = levelsOf(refill, texts);
  return {
    label: texts.why.beforeLabel(tray, before.length),
    x: xAxis(0, longest, texts.review.curves.hoursAxis),
    y: yAxis(
      [current, ...older],
      levels.map(({ at }) => at),
      texts.review.curves.waterAxis,
    ),
    lines: [
      ...older.map((line, place) => ({
        points: line,
        ink: BEFORE_INKS[place] ?? FAN_INK,
        width: 2,
        dash: BEFORE_DASHES[place] ?? [],
        name: nameOf(before[place], clock),
      })),
      { points: current, ink: NOW_INK, width: 3.5, name: texts.why.thisOne },
    ],
    levels,
  };
}

/** A dry-down is named by its watering. */
export function nameOf(course: WaterCourse | undefined, clock: FarmClockWords): string {
  if (course === undefined) return '';
  const atMs = Date.parse(course.from);
  return `${clock.shortDay(atMs)} ${clock.timeOfDay(atMs)}`;
}

/** Courses as rows of a table: one for each whole hour that any has. */
export function courseRows(courses: readonly (WaterCourse | undefined)[]): string[][] {
  const columns = courses.map(
    (course) =>
      new Map(
        course?.elapsedH.map((hours, place) => [Math.round(hours), course.waterContentM3PerM3[place] ?? 0]),
      ),
  );
  const hours = [...new Set(columns.flatMap((column) => [...column.keys()]))].sort((a, b) => a - b);
  return hours.map((hour) => [
    numberWords(hour, 0),
    ...columns.map((column) => {
      const water = column.get(hour);
      return water === undefined ? '' : numberWords(water * 100, 1);
    }),
  ]);
}
