import type { BenchAir } from '../../src/worlds/demo/virtual-bench/air/greenhouse-air.js';
import { saturationKPa } from '../../src/worlds/demo/virtual-bench/air/vapour.js';
import {
  driestTenthM3PerM3,
  meanBlockM3PerM3,
  stepTray,
  type TrayBody,
} from '../../src/worlds/demo/virtual-bench/trays/tray-body.js';
import {
  BENCH_STEP_MS,
  type BenchObserver,
  type VirtualBench,
} from '../../src/worlds/demo/virtual-bench/virtual-bench.js';

/** Hours until the refill point had nobody watered, the cover as it was; undefined: not within the recorded air. */
export interface DryOut {
  readonly meanBlockH: number | undefined;
  readonly driestTenthH: number | undefined;
}

export interface HourOfAir {
  readonly temperatureC: number;
  readonly vpdKPa: number;
  readonly solarWPerM2: number;
}

/** Keeps the air and every tray's course, and says afterwards what would have happened without water. */
export interface BenchHistory extends BenchObserver {
  /** Truth for a tray at an instant of the run; the bench must have run on well past it. */
  dryOut(trayId: string, atMs: number): DryOut;
  /** Hours until the mean block is at refill if nobody waters and the last 24 h of air come again, from now. */
  dryOutIfYesterdayRepeatsH(trayId: string): number | undefined;
  /** Mean air of the hour that starts then, as it really was; the last recorded hour beyond the run's end. */
  hourOfAir(benchId: string, fromMs: number): HourOfAir;
  /** True water content of the mean block then, m3/m3. */
  waterContentM3PerM3(trayId: string, atMs: number): number;
  /** Every instant at which the mean block came down to the refill point, as it really went. */
  dryEvents(trayId: string): readonly number[];
}

const STEPS_PER_DAY = 86_400_000 / BENCH_STEP_MS;
const STEPS_PER_HOUR = STEPS_PER_DAY / 24;
const HORIZON_DAYS = 5;

interface Crossings {
  readonly mean: number | undefined;
  readonly tenth: number | undefined;
}

interface Course {
  readonly refill: number;
  readonly mean: number[];
  readonly tenth: number[];
  /** Where the course was broken by hand, with the tray as it stood just before. */
  readonly breaks: {
    readonly index: number;
    readonly body: TrayBody;
    readonly benchId: string;
    after?: Crossings;
  }[];
}

/** First index after `from` at which a falling series comes down to the level, with the fraction of the step. */
function firstBelow(series: readonly number[], level: number, from: number, to: number): number | undefined {
  for (let i = from + 1; i <= to; i++) {
    const now = series[i];
    const before = series[i - 1];
    if (now === undefined || before === undefined) return undefined;
    if (now <= level && before > level) return i - 1 + (before - level) / (before - now);
  }
  return undefined;
}

/** A copy that can be run on by itself: what would have happened. */
function copyTrayBody(tray: TrayBody): TrayBody {
  return { ...tray, blocks: tray.blocks.map((block) => ({ ...block })) };
}

export function createBenchHistory(bench: VirtualBench): BenchHistory {
  const stepH = BENCH_STEP_MS / 3_600_000;
  const air = new Map<string, BenchAir[]>(bench.plan.benches.map(({ id }) => [id, []]));
  const courses = new Map<string, Course>();
  let firstMs: number | undefined;
  for (const { tray } of bench.plan.trays)
    courses.set(tray.id, { refill: tray.refillPointM3PerM3, mean: [], tenth: [], breaks: [] });

  const courseOf = (trayId: string): Course => {
    const course = courses.get(trayId);
    if (course === undefined) throw new RangeError(`no history of tray ${trayId}`);
    return course;
  };
  const indexOf = (atMs: number): number => Math.max(0, (atMs - (firstMs ?? atMs)) / BENCH_STEP_MS);

  /** Runs a broken-off tray on in the recorded air until its mean block is dry (the driest tenth goes before it). */
  const runOn = (start: TrayBody, benchId: string, index: number, refill: number): Crossings => {
    const body = copyTrayBody(start);
    const recorded = air.get(benchId) ?? [];
    let mean = meanBlockM3PerM3(body);
    let tenth = driestTenthM3PerM3(body);
    let meanAt: number | undefined = mean <= refill ? index : undefined;
    let tenthAt: number | undefined = tenth <= refill ? index : undefined;
    for (let i = index + 1; meanAt === undefined && i < recorded.length; i++) {
      const now = recorded[i];
      if (now === undefined) break;
      stepTray(body, now, (firstMs ?? 0) + (i - 1) * BENCH_STEP_MS, stepH);
      const nextMean = meanBlockM3PerM3(body);
      const nextTenth = driestTenthM3PerM3(body);
      if (tenthAt === undefined && nextTenth <= refill)
        tenthAt = i - 1 + (tenth - refill) / Math.max(1e-9, tenth - nextTenth);
      if (nextMean <= refill) meanAt = i - 1 + (mean - refill) / Math.max(1e-9, mean - nextMean);
      mean = nextMean;
      tenth = nextTenth;
    }
    return { mean: meanAt, tenth: tenthAt };
  };

  return {
    stepped: (atMs, _stepH, airNow) => {
      firstMs ??= atMs;
      for (const [benchId, recorded] of air) {
        const now = airNow.get(benchId);
        if (now !== undefined) recorded.push(now);
      }
      for (const [trayId, course] of courses) {
        const { body } = bench.body(trayId);
        course.mean.push(meanBlockM3PerM3(body));
        course.tenth.push(driestTenthM3PerM3(body));
      }
    },
    interrupted: (trayId) => {
      const course = courseOf(trayId);
      const { body, benchId } = bench.body(trayId);
      course.breaks.push({ index: course.mean.length - 1, body: copyTrayBody(body), benchId });
    },
    dryOut: (trayId, atMs) => {
      const course = courseOf(trayId);
      const at = indexOf(atMs);
      const here = Math.round(at);
      const next = course.breaks.find((broken) => broken.index >= here);
      const end = next === undefined ? course.mean.length - 1 : next.index;
      const hoursTo = (index: number | undefined): number | undefined =>
        index === undefined ? undefined : Math.max(0, (index - at) * stepH);
      const lookUp = (series: readonly number[], part: keyof Crossings): number | undefined => {
        if ((series[here] ?? 0) <= course.refill) return 0;
        const inside = firstBelow(series, course.refill, here, end);
        if (inside !== undefined || next === undefined) return hoursTo(inside);
        next.after ??= runOn(next.body, next.benchId, next.index, course.refill);
        return hoursTo(next.after[part]);
      };
      return { meanBlockH: lookUp(course.mean, 'mean'), driestTenthH: lookUp(course.tenth, 'tenth') };
    },
    dryOutIfYesterdayRepeatsH: (trayId) => {
      const { body, benchId } = bench.body(trayId);
      const recorded = air.get(benchId) ?? [];
      const day = recorded.slice(-STEPS_PER_DAY);
      if (day.length < STEPS_PER_DAY) return undefined;
      const { refill } = courseOf(trayId);
      const twin = copyTrayBody(body);
      let before = meanBlockM3PerM3(twin);
      if (before <= refill) return 0;
      for (let i = 0; i < HORIZON_DAYS * STEPS_PER_DAY; i++) {
        const now = day[i % STEPS_PER_DAY];
        if (now === undefined) return undefined;
        stepTray(twin, now, bench.nowMs() + i * BENCH_STEP_MS, stepH);
        const mean = meanBlockM3PerM3(twin);
        if (mean <= refill) return (i + (before - refill) / Math.max(1e-9, before - mean)) * stepH;
        before = mean;
      }
      return HORIZON_DAYS * 24;
    },
    hourOfAir: (benchId, fromMs) => {
      const recorded = air.get(benchId) ?? [];
      const from = Math.min(Math.round(indexOf(fromMs)), recorded.length - STEPS_PER_HOUR);
      const hour = recorded.slice(from, from + STEPS_PER_HOUR);
      const mean = (pick: (one: BenchAir) => number): number =>
        hour.reduce((sum, one) => sum + pick(one), 0) / hour.length;
      return {
        temperatureC: mean((one) => one.temperatureC),
        vpdKPa: mean((one) => Math.max(0, saturationKPa(one.temperatureC) - one.vapourKPa)),
        solarWPerM2: mean((one) => one.solarWPerM2),
      };
    },
    waterContentM3PerM3: (trayId, atMs) => courseOf(trayId).mean[Math.round(indexOf(atMs))] ?? 0,
    dryEvents: (trayId) => {
      const course = courseOf(trayId);
      const events: number[] = [];
      for (let from = 0; ; ) {
        const index = firstBelow(course.mean, course.refill, from, course.mean.length - 1);
        if (index === undefined) return events;
        events.push((firstMs ?? 0) + index * BENCH_STEP_MS);
        from = Math.ceil(index);
      }
    },
  };
}
