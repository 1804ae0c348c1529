import { farmConfigSchema } from '../../shared/config/farm.js';
import type { TrayForecast } from '../../src/drying/model/tray-forecast.js';
import type { RoundCalendar } from '../../src/watering/desk/round-calendar.js';
import type { DeskEffect, DeskView, WatchmanHealth } from '../../src/watering/desk/watering-desk.js';

export const HOUR = 3_600_000;
export const MIN = 60_000;
/** Midnight UTC of a day in spring; the farm of these tests keeps UTC. */
export const MIDNIGHT = Date.UTC(2026, 3, 18);

/** The farm `alder-row` as these tests see it. */
export function farm(overrides: Record<string, unknown> = {}) {
  return farmConfigSchema.parse({
    farm: 'alder-row',
    benches: [{ id: 'south', temperatureLimitsC: { low: 5, high: 35 } }, { id: 'north' }],
    trays: [{ id: 't1', bench: 'south', blockSideMm: 19, blockCount: 280 }],
    probes: [{ id: 'moist-t1', kind: 'block-moisture', tray: 't1' }],
    ...overrides,
  });
}

/** Rounds at these hours of every day, UTC. */
export function dailyRounds(hours: readonly number[] = [7, 18]): RoundCalendar {
  const known = new Map<number, readonly number[]>();
  const around = (atMs: number): readonly number[] => {
    const day = Math.floor(atMs / (24 * HOUR)) * 24 * HOUR;
    const rounds =
      known.get(day) ??
      Array.from({ length: 40 }, (_, i) => i - 15).flatMap((d) =>
        hours.map((hour) => day + d * 24 * HOUR + hour * HOUR),
      );
    known.set(day, rounds);
    return rounds;
  };
  return {
    after: (atMs, count) =>
      around(atMs)
        .filter((round) => round > atMs)
        .slice(0, count),
    lastBefore: (atMs) => around(atMs).findLast((round) => round <= atMs),
  };
}

/** A forecast whose mean block is dry after `medianH`, give or take a factor; the driest tenth after `tenth` of that. */
export function forecast(
  trayId: string,
  atMs: number,
  medianH: number,
  shape: {
    readonly spread?: number;
    readonly tenth?: number;
    readonly waterContent?: number;
    readonly basis?: TrayForecast['basis'];
    /** Under a cover: hours without it. */
    readonly uncoveredMedianH?: number;
  } = {},
): TrayForecast {
  const { spread = 0.2, tenth = 0.8, waterContent = 0.5, basis = 'probe' } = shape;
  const members = 201;
  const hours = Float64Array.from({ length: members }, (_, i) => {
    const u = (i + 0.5) / members;
    return medianH <= 0 ? 0 : medianH * Math.exp(spread * 0.5513 * Math.log(u / (1 - u)));
  });
  const beyond = (h: number): number => (h > 120 ? Number.POSITIVE_INFINITY : h);
  return {
    trayId,
    atMs,
    waterContentM3PerM3: waterContent,
    waterContentSdM3PerM3: 0.02,
    containerCapacityM3PerM3: 0.62,
    refillPointM3PerM3: 0.37,
    meanBlockHours: hours.map(beyond),
    driestTenthHours: hours.map((h) => beyond(h * tenth)),
    fallByHour: Float64Array.from({ length: 121 }, (_, h) =>
      medianH <= 0 ? 0 : ((waterContent - 0.37) * Math.min(h, medianH)) / medianH,
    ),
    ...(shape.uncoveredMedianH === undefined
      ? {}
      : { ifUncovered: forecast(trayId, atMs, shape.uncoveredMedianH, { spread, tenth }) }),
    basis,
  };
}

const rounds = dailyRounds();

export function view(
  nowMs: number,
  forecasts: readonly TrayForecast[] = [],
  more: {
    readonly temperatureC?: ReadonlyMap<string, number>;
    readonly health?: readonly WatchmanHealth[];
    readonly quietUntilMs?: number | undefined;
    readonly rounds?: RoundCalendar;
  } = {},
): DeskView {
  return {
    nowMs,
    rounds: more.rounds ?? rounds,
    forecasts: new Map(forecasts.map((one) => [one.trayId, one])),
    temperatureC: more.temperatureC ?? new Map(),
    health: more.health ?? [],
    quietUntilMs: more.quietUntilMs,
  };
}

/** The effects of one kind. */
export function only<K extends DeskEffect['kind']>(
  effects: readonly DeskEffect[],
  kind: K,
): readonly Extract<DeskEffect, { kind: K }>[] {
  return effects.filter((effect): effect is Extract<DeskEffect, { kind: K }> => effect.kind === kind);
}
