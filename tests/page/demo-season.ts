import { toInstant } from '../../shared/base/ids.js';
import { type FarmConfig, farmConfigSchema } from '../../shared/config/farm.js';
import type { Fact } from '../../src/monitor/ports/facts.js';
import { hoursLeft, type SeasonTray, seasonTrays } from './season-trays.js';
import { dryingPerH, seasonAir, seededRandom } from './season-weather.js';

export const HOUR_MS = 3_600_000;
export const STEP_MS = 10 * 60_000;
export const SEASON_START_MS = Date.parse('2026-03-20T00:00:00Z');
/** A Friday afternoon, after the notice of the 18:00 round in Berlin. */
export const SEASON_END_MS = Date.parse('2026-05-15T15:10:00Z');
const ROUND_HOURS_UTC = [5, 16];

/** The invented farm of every example: two benches, three block sizes, five moisture probes. */
export function demoConfig(): FarmConfig {
  return farmConfigSchema.parse({
    farm: 'alder-row',
    timeZone: 'Europe/Berlin',
    rounds: ['07:00', '18:00'],
    benches: [{ id: 'south' }, { id: 'north' }],
    trays: seasonTrays().map(({ id, bench, blockSideMm, blockCount, crop }) => ({
      id,
      bench,
      blockSideMm,
      blockCount,
      crop,
    })),
    probes: [
      { id: 'temp-south', kind: 'air-temperature', bench: 'south' },
      { id: 'rh-south', kind: 'relative-humidity', bench: 'south' },
      { id: 'light-south', kind: 'light', bench: 'south' },
      { id: 'temp-north', kind: 'air-temperature', bench: 'north' },
      ...seasonTrays()
        .filter((tray) => tray.hasProbe)
        .map((tray) => ({
          id: `moist-${tray.id}`,
          kind: 'block-moisture',
          tray: tray.id,
          calibration: [
            { volts: 2.21, waterContentM3PerM3: 0.155 },
            { volts: 1.78, waterContentM3PerM3: 0.36 },
            { volts: 1.33, waterContentM3PerM3: 0.581 },
          ],
        })),
    ],
  });
}

function voltsAt(waterContentM3PerM3: number): number {
  return 2.21 - ((waterContentM3PerM3 - 0.155) * 0.88) / 0.426;
}

/** Where one tray stands while the season is played. */
interface Course {
  readonly tray: SeasonTray;
  waterContent: number;
  startedAtMs: number;
  startWaterContent: number;
  isDry: boolean;
}

/**
 * A whole season as facts in the order of time: made up, seeded, the same each time. The first trays come to the bench at
 * `openedMs`.
 */
export function* seasonFacts(
  endMs = SEASON_END_MS,
  startMs = SEASON_START_MS,
  openedMs = SEASON_START_MS,
): Generator<Fact> {
  const random = seededRandom(7);
  const courses: Course[] = seasonTrays().map((tray) => ({
    tray,
    waterContent: tray.full,
    startedAtMs: Math.max(startMs, startOf(tray, openedMs)),
    startWaterContent: tray.full,
    isDry: false,
  }));
  for (const { tray } of courses) yield newTray(tray, startMs, openedMs);
  yield { kind: 'probe-drift', probeId: 'moist-t5', atMs: endMs - 27 * HOUR_MS, driftM3PerM3: 0.041 };
  for (let atMs = startMs; atMs <= endMs; atMs += STEP_MS) {
    const air = seasonAir(atMs);
    const hour = new Date(atMs).getUTCHours();
    const isRound = ROUND_HOURS_UTC.includes(hour) && atMs % HOUR_MS === 0;
    yield* airReadings(atMs, air);
    for (const course of courses) {
      const { tray } = course;
      if (atMs < startOf(tray, openedMs)) continue;
      course.waterContent -= dryingPerH(tray, course.waterContent, atMs) / 6;
      if (tray.hasProbe) yield moistureReading(course, atMs, random);
      if (atMs % HOUR_MS === 0) yield forecastFact(course, atMs);
      yield* dryAlarm(course, atMs);
      const forgetful = random() < 0.05;
      if (isRound && !forgetful && (hoursLeft(tray, course.waterContent) ?? 99) < (hour === 5 ? 22 : 15))
        yield* water(course, atMs + Math.floor(random() * 20) * 60_000, air, random);
    }
  }
}

/** When a tray came to the bench. */
function startOf(tray: SeasonTray, openedMs: number): number {
  return openedMs + tray.startsDay * 24 * HOUR_MS;
}

function newTray(tray: SeasonTray, startMs: number, openedMs: number): Fact {
  const atMs = startOf(tray, openedMs);
  const { id, bench, blockSideMm, blockCount, crop } = tray;
  return {
    kind: 'tray-event',
    event: {
      at: toInstant(startMs),
      tray: id,
      event: 'new',
      bench,
      blockSideMm,
      blockCount,
      crop,
      sownAt: toInstant(atMs),
      germinatedAt: toInstant(atMs + 6 * 24 * HOUR_MS),
    },
  };
}

function* airReadings(atMs: number, air: ReturnType<typeof seasonAir>): Generator<Fact> {
  const one = (probeId: string, rawUnit: 'Cel' | '%RH' | 'lx', rawValue: number): Fact => ({
    kind: 'reading',
    reading: {
      probeId,
      observedAtMs: atMs,
      rawValue,
      rawUnit,
      waterContentM3PerM3: undefined,
      flag: 1,
      flagReasons: [],
      calibrationId: undefined,
    },
  });
  yield one('temp-south', 'Cel', air.temperatureC);
  yield one('temp-north', 'Cel', air.temperatureC - 2.5);
  yield one('rh-south', '%RH', air.relativeHumidityPct);
  yield one('light-south', 'lx', air.lightLx);
}

/** One probe has a loose wire for some days in April: flagged, then silent. */
const LOOSE_FROM_MS = Date.parse('2026-04-21T00:00:00Z');
const SILENT_FROM_MS = Date.parse('2026-04-22T00:00:00Z');
const MENDED_MS = Date.parse('2026-04-23T09:00:00Z');

function moistureReading(course: Course, atMs: number, random: () => number): Fact {
  const loose = course.tray.id === 't5' && atMs >= LOOSE_FROM_MS && atMs < MENDED_MS;
  const silent = loose && atMs >= SILENT_FROM_MS;
  const noisy = course.waterContent + (random() - 0.5) * (loose ? 0.2 : 0.006);
  return {
    kind: 'reading',
    reading: {
      probeId: `moist-${course.tray.id}`,
      observedAtMs: atMs,
      rawValue: silent ? undefined : voltsAt(noisy),
      rawUnit: 'V',
      waterContentM3PerM3: silent ? undefined : noisy,
      flag: silent ? 9 : loose ? 4 : 1,
      flagReasons: silent ? ['missing'] : loose ? ['spike'] : [],
      calibrationId: 'cal-1',
    },
  };
}

export function forecastFact(
  { tray, waterContent }: Pick<Course, 'tray' | 'waterContent'>,
  atMs: number,
): Extract<Fact, { kind: 'forecast' }> {
  const short = (hours: number | null): number | null =>
    hours === null || hours > 120 ? null : Math.round(hours * 100) / 100;
  const range = (hours: number | null) => ({
    p10: short(hours === null ? null : hours * 0.7),
    p50: short(hours),
    p90: short(hours === null ? null : hours * 1.45),
  });
  const mean = hoursLeft(tray, waterContent);
  const driest = mean === null ? null : mean * 0.8;
  const rounds = [16, 29, 40, 53].map(
    (hours) => Math.floor(atMs / (24 * HOUR_MS)) * 24 * HOUR_MS + hours * HOUR_MS,
  );
  return {
    kind: 'forecast',
    forecast: {
      at: toInstant(atMs),
      tray: tray.id,
      waterContentM3PerM3: waterContent,
      waterContentSdM3PerM3: 0.015,
      hoursToRefill: range(mean),
      hoursToRefillDriestTenth: range(driest),
      lastsUntilRounds: rounds
        .filter((roundMs) => roundMs > atMs)
        .map((roundMs) => ({
          round: toInstant(roundMs),
          probability: Math.min(1, Math.max(0, ((driest ?? 120) * 1.3 * HOUR_MS) / (roundMs - atMs) - 0.3)),
        })),
      basis: tray.hasProbe ? 'probe' : 'shared',
    },
  };
}

function* dryAlarm(course: Course, atMs: number): Generator<Fact> {
  const { tray } = course;
  const dry = course.waterContent < tray.refill;
  if (dry === course.isDry) return;
  course.isDry = dry;
  if (!dry) return;
  const sentence = `${tray.id} (${tray.crop}) on bench ${tray.bench} is dry.`;
  yield {
    kind: 'alarm',
    transition: { at: toInstant(atMs), kind: 'dry', state: 'unacknowledged', tray: tray.id, sentence },
  };
  yield {
    kind: 'call',
    call: { at: toInstant(atMs), kind: 'dry', bench: tray.bench, trays: [tray.id], again: false, sentence },
  };
}

function* water(
  course: Course,
  atMs: number,
  air: ReturnType<typeof seasonAir>,
  random: () => number,
): Generator<Fact> {
  const { tray } = course;
  const reached = tray.full - random() * 0.03;
  const takenUpMl = Math.round(
    ((reached - course.waterContent) * tray.blockSideMm ** 3 * tray.blockCount) / 1000,
  );
  yield {
    kind: 'dry-down',
    dryDown: {
      trayId: tray.id,
      startedAtMs: course.startedAtMs,
      endedAtMs: atMs,
      startWaterContentM3PerM3: course.startWaterContent,
      endWaterContentM3PerM3: course.waterContent,
      ...(course.waterContent <= tray.refill ? { refillReachedAtMs: atMs - HOUR_MS } : {}),
      meanTemperatureC: air.temperatureC,
      meanVpdKPa: air.vpdKPa,
      hasProbe: tray.hasProbe,
    },
  };
  yield {
    kind: 'watering',
    watering: {
      at: toInstant(atMs),
      tray: tray.id,
      source: tray.hasProbe ? 'detected' : 'logged',
      ...(tray.hasProbe ? { ml: takenUpMl, takenUpMl } : {}),
      ...(tray.hasProbe ? {} : { by: random() < 0.5 ? 'Anna' : 'Ben' }),
    },
  };
  if (course.isDry)
    yield { kind: 'alarm', transition: { at: toInstant(atMs), kind: 'dry', state: 'normal', tray: tray.id } };
  course.isDry = false;
  course.waterContent = reached;
  course.startWaterContent = reached;
  course.startedAtMs = atMs;
}
