import type {
  FarmModel,
  FarmModelSpec,
  ModelEvent,
  ProbeSpec,
  TraySpec,
} from '../../src/drying/model/farm-model.js';
import { hoursQuantile } from '../../src/drying/model/tray-forecast.js';
import { createFarmModel } from '../../src/drying/whole/create-farm-model.js';

export const MINUTE_MS = 60_000;
export const HOUR_MS = 3_600_000;
export const DAY_MS = 24 * HOUR_MS;
/** Four in the morning UTC, a spring day. */
export const START_MS = Date.UTC(2026, 3, 18, 4);

const climate: readonly ProbeSpec[] = [
  { id: 'temp-south', kind: 'air-temperature', benchId: 'south' },
  { id: 'rh-south', kind: 'relative-humidity', benchId: 'south' },
];

/** A straight capacitive probe, 2.6 V when dry and 1 V when soaked. */
export function voltsOf(waterContent: number): number {
  return 2.6 - 2 * waterContent;
}

export const moisture: ProbeSpec = {
  id: 'moist-t1',
  kind: 'block-moisture',
  trayId: 't1',
  calibration: [
    { volts: voltsOf(0.15), waterContentM3PerM3: 0.15 },
    { volts: voltsOf(0.4), waterContentM3PerM3: 0.4 },
    { volts: voltsOf(0.65), waterContentM3PerM3: 0.65 },
  ],
};

export function farmOf(change: Partial<FarmModelSpec> = {}): FarmModelSpec {
  return {
    benches: [{ id: 'south' }, { id: 'north' }],
    probes: [...climate, moisture],
    utcOffsetMin: () => 120,
    latitudeDeg: 52,
    longitudeDeg: 13,
    seed: 7,
    ...change,
  };
}

export function trayOf(id: string, change: Partial<TraySpec> = {}): TraySpec {
  return {
    id,
    benchId: 'south',
    blockSideMm: 38,
    blockCount: 72,
    containerCapacityM3PerM3: 0.62,
    refillPointM3PerM3: 0.35,
    cover: 'none',
    ...change,
  };
}

/** Repeatable noise of unit variance (sum of uniforms of a linear congruential generator). */
export function noiseSource(seed: number): () => number {
  let state = seed;
  const uniform = (): number => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
  return () => Array.from({ length: 12 }, uniform).reduce((sum, value) => sum + value, -6);
}

/** Temperature of the day, warmest in the early afternoon, °C. */
export function dayTemperatureC(atMs: number): number {
  return 20 + 6 * Math.sin(((atMs % DAY_MS) / DAY_MS - 0.375) * 2 * Math.PI);
}

/** Loss of a middling block, m³/m³ per hour: most of it by day. Not the model's equations. */
function lossPerH(atMs: number): number {
  return 0.003 + 0.011 * Math.max(0, Math.sin(((atMs % DAY_MS) / DAY_MS - 0.25) * 2 * Math.PI));
}

export interface PlayedPour {
  readonly atH: number;
  /** Share of the deficit that is filled. */
  readonly share: number;
}

export interface PlayOptions {
  readonly hours: number;
  readonly pours?: readonly PlayedPour[];
  readonly cadenceMin?: number;
  readonly noiseSd?: number;
  readonly driftPerDay?: number;
  readonly perK?: number;
  readonly fromH?: number;
  readonly startWater?: number;
  /** What the model is fed for a true water content; volts by default. */
  readonly reading?: (waterContent: number) => number;
  readonly probeId?: string;
  /** Called at each full hour, after the readings before it. */
  readonly atHour?: (atMs: number, waterContent: number) => void;
}

/** Plays a drying witness with weather to the model and returns what the model noticed. */
export function play(model: FarmModel, options: PlayOptions): ModelEvent[] {
  const {
    hours,
    pours = [],
    cadenceMin = 5,
    noiseSd = 0.003,
    driftPerDay = 0,
    perK = 0,
    fromH = 0,
  } = options;
  const noise = noiseSource(11 + fromH);
  const events: ModelEvent[] = [];
  const soakH = 0.5;
  let water = options.startWater ?? 0.6;
  let target: number | undefined;
  const steps = Math.round((hours * 60) / cadenceMin);
  for (let step = 0; step <= steps; step++) {
    const minute = fromH * 60 + step * cadenceMin;
    const atMs = START_MS + Math.round(minute * MINUTE_MS);
    const stepH = cadenceMin / 60;
    water = Math.max(0.1, water - lossPerH(atMs) * stepH);
    for (const pour of pours)
      if (pour.atH * 60 > minute - cadenceMin && pour.atH * 60 <= minute)
        target = water + pour.share * (0.615 - water);
    if (target !== undefined) {
      water += (target - water) * (1 - Math.exp((-3 * stepH) / soakH));
      if (target - water < 0.003) target = undefined;
    }
    const temperatureC = dayTemperatureC(atMs);
    const seen = water + noiseSd * noise() + (driftPerDay * minute) / 1440 + perK * (temperatureC - 20);
    model.observe('temp-south', atMs, temperatureC, 1);
    model.observe('rh-south', atMs, 62 - 1.5 * (temperatureC - 20), 1);
    model.observe(options.probeId ?? 'moist-t1', atMs, (options.reading ?? voltsOf)(seen), 1);
    if ((atMs - START_MS) % HOUR_MS === 0) {
      events.push(...model.advanceTo(atMs));
      options.atHour?.(atMs, water);
    }
  }
  return events;
}

export function detected(
  events: readonly ModelEvent[],
): Extract<ModelEvent, { kind: 'watering-detected' }>[] {
  return events.filter((event) => event.kind === 'watering-detected');
}

/** Median hours to refill; the horizon when beyond it. */
export function middleH(model: FarmModel, trayId: string): number {
  return hoursQuantile(model.forecast(trayId).meanBlockHours, 0.5) ?? 120;
}

/** Width of p10 to p90 of the water content's spread: its standard deviation. */
export function waterSd(model: FarmModel, trayId: string): number {
  return model.forecast(trayId).waterContentSdM3PerM3;
}

export function modelOf(trays: readonly TraySpec[], spec: FarmModelSpec = farmOf()): FarmModel {
  const model = createFarmModel(spec);
  for (const tray of trays) model.addTray(tray, START_MS);
  return model;
}
