import { MS_PER_HOUR } from '../../../../../shared/base/time-units.js';
import type { ProbeHistory } from '../../../../../shared/page/page-review.js';
import { evenTicks, hourTicks } from '../../draw/even-ticks.js';
import type { PictureSpec, Point } from '../../draw/picture.js';
import { numberWords } from '../../texts/amounts/amounts.js';
import type { FarmClockWords } from '../../texts/farm-clock.js';

const MOST_TICKS = 8;
/** Beyond this many hours the ticks are days. */
const DAYS_FROM_H = 48;
const INKS = { probe: '#6b3f1d', doubt: '#96180b', gap: '#e5dccb' } as const;
const DOUBT_PX = 3.5;
/** Room above and below the course, of its height. */
const EDGE_SHARE = 0.06;
const LEAST_HEIGHT = 1e-6;

interface CourseWords {
  readonly label: string;
  readonly unit: string;
  /** What a value is multiplied by to stand in `unit`. */
  readonly scale: number;
}

/** A probe's course as a drawing that can be kept: its line, what was not believed, and its gaps. */
export function coursePicture(
  { course, gaps }: ProbeHistory,
  fromMs: number,
  toMs: number,
  clock: FarmClockWords,
  { label, unit, scale }: CourseWords,
): PictureSpec {
  const hour = (atMs: number): number => (atMs - fromMs) / MS_PER_HOUR;
  const points = course.atS.map((atS, place): Point => [hour(atS * 1000), (course.mean[place] ?? 0) * scale]);
  const values = points.map(([, value]) => value);
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const edge = Math.max(LEAST_HEIGHT, (high - low) * EDGE_SHARE);
  const y = { from: low - edge, to: high + edge };
  const gapHours = gaps.map(({ from, to }) => [hour(Date.parse(from)), hour(Date.parse(to))] as const);
  const isBroken = (from: number, to: number): boolean =>
    gapHours.some(([begin, end]) => begin >= from - LEAST_HEIGHT && end <= to + LEAST_HEIGHT);
  const stretches: Point[][] = [];
  points.forEach((point, place) => {
    const before = points[place - 1];
    const stretch = stretches.at(-1);
    if (before === undefined || stretch === undefined || isBroken(before[0], point[0]))
      stretches.push([point]);
    else stretch.push(point);
  });
  const lastH = hour(toMs);
  const tickWords = (at: number): string => {
    const atMs = fromMs + at * MS_PER_HOUR;
    return lastH > DAYS_FROM_H ? clock.shortDay(atMs) : clock.timeOfDay(atMs);
  };
  return {
    label,
    x: {
      from: 0,
      to: lastH,
      label: '',
      ticks: hourTicks(0, lastH, MOST_TICKS).map((at) => ({ at, words: tickWords(at) })),
    },
    y: {
      ...y,
      label: unit,
      ticks: evenTicks(y.from, y.to, MOST_TICKS).map((at) => ({ at, words: numberWords(at) })),
    },
    areas: gapHours.map(([from, to]) => ({
      points: [
        [from, y.from],
        [to, y.from],
        [to, y.to],
        [from, y.to],
      ],
      fill: INKS.gap,
    })),
    lines: stretches.map((stretch) => ({ points: stretch, ink: INKS.probe, width: 2 })),
    dots: points.flatMap((at, place) =>
      (course.flaggedShare[place] ?? 0) > 0.5 ? [{ at, radiusPx: DOUBT_PX, ink: INKS.doubt }] : [],
    ),
  };
}

/** The weighed points of a calibration as a drawing that can be kept, volts across and water upwards. */
export function calibrationPicture(
  points: ProbeHistory['calibration'],
  words: { readonly label: string; readonly volts: string; readonly water: string },
): PictureSpec {
  const places = points
    .map(({ volts, waterContentM3PerM3 }): Point => [volts, waterContentM3PerM3 * 100])
    .sort(([a], [b]) => a - b);
  const axis = (place: 0 | 1, label: string, decimals: number) => {
    const values = places.map((point) => point[place]);
    const edge = Math.max(LEAST_HEIGHT, (Math.max(...values) - Math.min(...values)) * EDGE_SHARE);
    const [from, to] = [Math.min(...values) - edge, Math.max(...values) + edge];
    const ticks = evenTicks(from, to, MOST_TICKS);
    return { from, to, label, ticks: ticks.map((at) => ({ at, words: numberWords(at, decimals) })) };
  };
  return {
    label: words.label,
    x: axis(0, words.volts, 2),
    y: axis(1, words.water, 0),
    lines: [{ points: places, ink: INKS.probe, width: 2.5 }],
    dots: places.map((at) => ({ at, radiusPx: DOUBT_PX, ink: INKS.doubt })),
  };
}
