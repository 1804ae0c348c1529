import { HOURS_PER_DAY, MS_PER_DAY, MS_PER_HOUR } from '../../../shared/base/time-units.js';
import { HORIZON_H } from '../climate/member-draws.js';
import { dryBy, type FallingStage } from '../physics/drying-law.js';
import {
  fallByHour,
  hourOfDay,
  indexOn,
  type LevelScale,
  levelBin,
  levelFactor,
  type ReadingCourse,
  type SeenReading,
} from './reading-course.js';

/**
 * Cheap experts on how a probe's reading goes on falling when nobody waters. Each begins at the reading itself:
 * by the hour of day as of late; by level and hour; the block model's drying; that, scaled by what the readings did of it;
 * as the last dry-down went on from this level; at the speed of the last day.
 */
export const EXPERTS = [
  'hour-of-day',
  'level-and-hour',
  'block-model',
  'scaled-model',
  'last-course',
  'last-day',
] as const;

/** What the block model says of the hours to come. */
export interface ModelCourse {
  /** Potential drying of each hour to come, m³/m³. */
  readonly potential: Float64Array;
  readonly stage: FallingStage;
  readonly scale: LevelScale;
}

/** Fall that readings and model must have in common before the one corrects the other, m³/m³. */
const SCALE_PRIOR_M3PERM3 = 0.02;
/** Hours of the last day that its speed is taken from at the least, how long it lasts, and what it must differ from the usual by. */
const LAST_DAY = { fromH: 4, memoryH: 48, priorM3PerM3: 0.01 } as const;

/** Fall from the last reading on, after 0 … `HORIZON_H` hours, expert by expert, m³/m³. `nowMs` is where the model's hours begin. */
export function expertFalls(course: ReadingCourse, model: ModelCourse, nowMs: number): Float64Array[] {
  const from = course.last;
  if (from === undefined) return [];
  const usual = fallByHour(course);
  const elapsedH = Math.max(0, Math.round((nowMs - from.atMs) / MS_PER_HOUR));
  const firstHour = hourOfDay(from.atMs);
  const hourly = (lead: number): number => usual[(firstHour + lead) % usual.length] as number;
  const potential = (lead: number): number => model.potential[Math.max(0, lead - elapsedH)] as number;
  const byLevel = (lead: number, reading: number): number =>
    hourly(lead) * levelFactor(course, levelBin(indexOn(model.scale, reading)));
  const scaled = (course.recentFall + SCALE_PRIOR_M3PERM3) / (course.recentByModel + SCALE_PRIOR_M3PERM3);
  const scale = Math.max(0, scaled);
  const run = (fallOf: (lead: number, reading: number) => number): Float64Array => {
    const falls = new Float64Array(HORIZON_H + 1);
    let reading = from.reading;
    for (let lead = 0; lead < HORIZON_H; lead++) {
      reading -= Math.max(0, fallOf(lead, reading));
      falls[lead + 1] = from.reading - reading;
    }
    return falls;
  };
  const byModel = (factor: number) => (lead: number, reading: number) =>
    reading - dryBy(reading, factor * potential(lead), model.stage);
  const levels = run(byLevel);
  const again = courseFrom(course.before, from.reading);
  const speed = speedOfLastDay(course, usual);
  return [
    run(hourly),
    levels,
    run(byModel(1)),
    run(byModel(scale)),
    again === undefined ? levels : run((lead, reading) => again(lead) ?? byLevel(lead, reading)),
    speed === undefined
      ? levels
      : run((lead) => hourly(lead) * (1 + (speed - 1) * Math.exp(-lead / LAST_DAY.memoryH))),
  ];
}

/** How the last dry-down went on from this reading: fall in the hour `lead`; undefined when it never stood there, or was over. */
function courseFrom(
  before: readonly SeenReading[],
  reading: number,
): ((lead: number) => number | undefined) | undefined {
  const next = before.findIndex((one) => one.reading <= reading);
  const from = before[next - 1];
  const to = before[next];
  const end = before[before.length - 1];
  if (from === undefined || to === undefined || end === undefined) return undefined;
  const startMs =
    from.atMs + ((to.atMs - from.atMs) * (from.reading - reading)) / (from.reading - to.reading);
  let at = next;
  const readingAt = (atMs: number): number => {
    while (at < before.length - 1 && (before[at] as SeenReading).atMs < atMs) at++;
    const [early, late] = [before[at - 1] as SeenReading, before[at] as SeenReading];
    const share = Math.min(1, Math.max(0, (atMs - early.atMs) / (late.atMs - early.atMs)));
    return early.reading + share * (late.reading - early.reading);
  };
  let now = reading;
  return (lead) => {
    const untilMs = startMs + (lead + 1) * MS_PER_HOUR;
    if (untilMs > end.atMs) return undefined;
    const fall = now - readingAt(untilMs);
    now -= fall;
    return fall;
  };
}

/** Fall of the last day over what the hours of day had for it; undefined in the first hours of a dry-down. */
function speedOfLastDay({ open }: ReadingCourse, usual: Float64Array): number | undefined {
  const end = open[open.length - 1];
  if (end === undefined) return undefined;
  const start = open.find(({ atMs }) => end.atMs - atMs <= MS_PER_DAY) ?? end;
  const hours = Math.round((end.atMs - start.atMs) / MS_PER_HOUR);
  if (hours < LAST_DAY.fromH) return undefined;
  let expected = 0;
  for (let hour = 0; hour < hours; hour++)
    expected += usual[hourOfDay(start.atMs + hour * MS_PER_HOUR)] as number;
  return (start.reading - end.reading + LAST_DAY.priorM3PerM3) / (expected + LAST_DAY.priorM3PerM3);
}

/** Longest time told, h: beyond the horizon falls go on as in its last day. */
export const LONGEST_H = 200;
const LEAST_RATE_PER_H = 1e-5;

/** Hours until a fall, on hourly falls from now, has come to `fall`, 0 to `LONGEST_H`. */
export function hoursToFall(falls: Float64Array, fall: number): number {
  if (fall <= 0) return 0;
  const end = falls.length - 1;
  const at = (lead: number): number => falls[lead] as number;
  if (at(end) >= fall) {
    let low = 0;
    let high = end;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (at(middle) >= fall) high = middle;
      else low = middle;
    }
    return low + (fall - at(low)) / (at(high) - at(low));
  }
  const rate = Math.max(LEAST_RATE_PER_H, (at(end) - at(end - HOURS_PER_DAY)) / HOURS_PER_DAY);
  return Math.min(LONGEST_H, end + (fall - at(end)) / rate);
}
