import { HOURS_PER_DAY, MS_PER_HOUR } from '../../../shared/base/time-units.js';

/** Reading of a calibrated moisture probe at an instant, m³/m³. */
export interface SeenReading {
  readonly atMs: number;
  readonly reading: number;
}

/** What one probe's readings have done: its own falls, by hour of day and by level, and the course of its dry-downs. */
export interface ReadingCourse {
  last: SeenReading | undefined;
  /** Falls seen at each UTC hour, m³/m³, and hours of watching there, both fading visit by visit. */
  readonly hourFall: Float64Array;
  readonly hourTime: Float64Array;
  /** Falls seen at each level, and what the hours of day alone would have had there. */
  readonly levelFall: Float64Array;
  readonly levelExpected: Float64Array;
  /** Falls of the last days, and what the block model dried meanwhile. */
  recentFall: number;
  recentByModel: number;
  /** Drying by the block model since the last reading that was noted, m³/m³. */
  driedByModel: number;
  /** The running dry-down from its top, and the one before it, which only falls. */
  open: SeenReading[];
  before: SeenReading[];
  finished: number;
  /** Tops of the last dry-downs; absent in memories from before they were kept. */
  tops?: SeenReading[] | undefined;
  /** What the block model expects at each UTC hour of a day, m³/m³: the shape of a day before one was seen. */
  readonly usualHours: Float64Array;
}

/** Bins of the level: from this moisture index, in steps of a tenth. */
const FIRST_BIN_INDEX = -0.4;
const BINS_PER_INDEX = 10;
const BINS = 20;
/** A visit to an hour of day fades what was seen there before to this share: five days matter (measured on recordings). */
const VISIT_KEEPS = 0.84;
const LEVEL_KEEPS = 0.97;
/** Time constant of the comparison with the block model, h (half-life). */
const RECENT_HALF_LIFE_H = 60;
/** A reading higher than the last by this begins a dry-down though no pour is known, m³/m³. */
const FRESH_RISE = 0.03;
/** Faster than this share of the span in an hour no block dries: a probe has lost touch or was moved (judgement). */
const SUDDEN_SHARE_PER_H = 0.4;
/** A silence this long hides what happened, h. */
export const LONGEST_GAP_H = 8;
/** The top of a dry-down is still sought among its first readings. */
const TOP_WITHIN = 8;
const MOST_KEPT = 240;
/** Fewer readings are no dry-down. */
const LEAST_KEPT = 5;

export function newReadingCourse(): ReadingCourse {
  return {
    last: undefined,
    hourFall: new Float64Array(HOURS_PER_DAY),
    hourTime: new Float64Array(HOURS_PER_DAY),
    levelFall: new Float64Array(BINS),
    levelExpected: new Float64Array(BINS),
    recentFall: 0,
    recentByModel: 0,
    driedByModel: 0,
    open: [],
    before: [],
    finished: 0,
    tops: [],
    usualHours: new Float64Array(HOURS_PER_DAY),
  };
}

/** UTC hour of the day at an instant, 0 to 23. */
export function hourOfDay(atMs: number): number {
  return Math.floor(atMs / MS_PER_HOUR) % HOURS_PER_DAY;
}

/** Hours' worth of the block model in the mean fall, and visits' worth of it in each hour of the day. */
const MODEL_HOURS = 12;
const MODEL_VISITS = 1;

/** Fall per hour at each UTC hour of the day, m³/m³: what was seen there, the model's shape where nothing was, smoothed. */
export function fallByHour(course: ReadingCourse): Float64Array {
  const { hourFall, hourTime, usualHours } = course;
  const sum = (values: Float64Array): number => values.reduce((total, value) => total + value, 0);
  const usual = sum(usualHours) / HOURS_PER_DAY;
  const mean = (sum(hourFall) + usual * MODEL_HOURS) / (sum(hourTime) + MODEL_HOURS);
  const raw = hourFall.map((fall, hour) => {
    const shaped = ((usualHours[hour] as number) * mean) / Math.max(1e-6, usual);
    return (fall + (MODEL_VISITS * (mean + shaped)) / 2) / ((hourTime[hour] as number) + MODEL_VISITS);
  });
  const at = (hour: number): number => raw[(hour + HOURS_PER_DAY) % HOURS_PER_DAY] as number;
  return raw.map((value, hour) => Math.max(0, value / 2 + at(hour + 1) / 4 + at(hour - 1) / 4));
}

export function levelBin(moistureIndex: number): number {
  return Math.min(BINS - 1, Math.max(0, Math.floor((moistureIndex - FIRST_BIN_INDEX) * BINS_PER_INDEX)));
}

/** Weight of a neighbouring bin, and fall that a level must have seen before it counts. */
const NEIGHBOUR = 0.35;
const LEVEL_PRIOR_M3PERM3 = 0.03;

/** How much faster than the hours of day say readings fall at this level. */
export function levelFactor({ levelFall, levelExpected }: ReadingCourse, bin: number): number {
  let fall = LEVEL_PRIOR_M3PERM3;
  let expected = LEVEL_PRIOR_M3PERM3;
  for (const [at, weight] of [
    [bin - 1, NEIGHBOUR],
    [bin, 1],
    [bin + 1, NEIGHBOUR],
  ] as const) {
    fall += weight * (levelFall[at] ?? 0);
    expected += weight * (levelExpected[at] ?? 0);
  }
  return fall / expected;
}

/** Where a dry-down begins and where it is held to be full and dry, for levels. */
export interface LevelScale {
  readonly refill: number;
  readonly span: number;
}

export function indexOn({ refill, span }: LevelScale, reading: number): number {
  return (reading - refill) / span;
}

/** Tops of this many days and no more of them, least of them to tell a trend, and variance that is no trend, m³/m³ squared. */
const TOPS = { days: 30, most: 12, least: 4, idleSum: 1e-4 } as const;

/**
 * How steadily the tops of the last dry-downs wander one way, 0 to 1: the share of their scatter that a straight line over time
 * explains, adjusted for their number. What a drifting probe reads when full does; water does not.
 */
export function steadyDrift({ tops = [] }: ReadingCourse): number {
  const count = tops.length;
  if (count < TOPS.least) return 0;
  const meanMs = tops.reduce((sum, { atMs }) => sum + atMs, 0) / count;
  const mean = tops.reduce((sum, { reading }) => sum + reading, 0) / count;
  let [time, level, both]: [number, number, number] = [0, TOPS.idleSum, 0];
  for (const { atMs, reading } of tops) {
    const hours = (atMs - meanMs) / MS_PER_HOUR;
    time += hours ** 2;
    level += (reading - mean) ** 2;
    both += hours * (reading - mean);
  }
  const explained = both ** 2 / (time * level);
  return Math.max(0, 1 - ((1 - explained) * (count - 1)) / (count - 2));
}

function keepDryDown(course: ReadingCourse): void {
  if (course.open.length >= LEAST_KEPT) {
    let lowest = Number.POSITIVE_INFINITY;
    course.before = course.open.filter(({ reading }) => {
      const falls = reading < lowest;
      if (falls) lowest = reading;
      return falls;
    });
    course.finished++;
    const [top] = course.open;
    if (top !== undefined)
      course.tops = [...(course.tops ?? []), top]
        .filter(({ atMs }) => top.atMs - atMs <= TOPS.days * HOURS_PER_DAY * MS_PER_HOUR)
        .slice(-TOPS.most);
  }
}

/** Takes a reading in; true when it stands at the top of a new dry-down. `pouredAtMs`: the last known pour. */
export function noteReading(
  course: ReadingCourse,
  seen: SeenReading,
  scale: LevelScale,
  pouredAtMs: number,
): boolean {
  const { last } = course;
  course.last = seen;
  const byModel = course.driedByModel;
  course.driedByModel = 0;
  const sinceH = last === undefined ? 1 : (seen.atMs - last.atMs) / MS_PER_HOUR;
  const isFresh =
    last === undefined ||
    pouredAtMs > last.atMs ||
    seen.reading > last.reading + FRESH_RISE ||
    last.reading - seen.reading > SUDDEN_SHARE_PER_H * scale.span * Math.max(1, sinceH) ||
    sinceH > LONGEST_GAP_H;
  if (isFresh) {
    keepDryDown(course);
    course.open = [seen];
    return true;
  }
  learnFall(course, last, seen, scale, byModel);
  const top = course.open[0];
  if (top !== undefined && seen.reading >= top.reading && course.open.length < TOP_WITHIN) {
    course.open = [seen];
    return true;
  }
  course.open.push(seen);
  if (course.open.length > MOST_KEPT) course.open.shift();
  return false;
}

function learnFall(
  course: ReadingCourse,
  from: SeenReading,
  to: SeenReading,
  scale: LevelScale,
  byModel: number,
): void {
  const hours = (to.atMs - from.atMs) / MS_PER_HOUR;
  if (!(hours > 0)) return;
  const fall = from.reading - to.reading;
  const usual = fallByHour(course);
  const pieces = Math.max(1, Math.round(hours));
  const keeps = VISIT_KEEPS ** (hours / pieces);
  let expected = 0;
  for (let piece = 0; piece < pieces; piece++) {
    const hour = hourOfDay(from.atMs + ((piece + 0.5) / pieces) * (to.atMs - from.atMs));
    expected += ((usual[hour] as number) * hours) / pieces;
    course.hourFall[hour] = keeps * (course.hourFall[hour] as number) + fall / pieces;
    course.hourTime[hour] = keeps * (course.hourTime[hour] as number) + hours / pieces;
  }
  const bin = levelBin(indexOn(scale, (from.reading + to.reading) / 2));
  course.levelFall[bin] = LEVEL_KEEPS * (course.levelFall[bin] as number) + fall;
  course.levelExpected[bin] = LEVEL_KEEPS * (course.levelExpected[bin] as number) + expected;
  const fades = 2 ** (-hours / RECENT_HALF_LIFE_H);
  course.recentFall = fades * course.recentFall + fall;
  course.recentByModel = fades * course.recentByModel + byModel;
}
