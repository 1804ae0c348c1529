import { HOURS_PER_DAY, MS_PER_MIN } from '../../../shared/base/time-units.js';
import { vpdKPa as vpdOf } from '../physics/air/psychrometrics.js';

/** Weather of one bench during one step. */
export interface ClimateStep {
  readonly temperatureC: number;
  readonly vpdKPa: number;
  readonly solarWPerM2: number;
}

export const CLIMATE_KINDS = ['temperatureC', 'vpdKPa', 'solarWPerM2'] as const;
export type ClimateKind = (typeof CLIMATE_KINDS)[number];

/** Days of the bench's own past that the outlook rests on. */
export const REMEMBERED_DAYS = 10;
/** A climate probe silent for longer is not taken as the present any more. */
const STALE_AFTER_MS = 40 * MS_PER_MIN;

/** Hourly means of the remembered days of one quantity, by hour slot since the epoch; NaN-free: absent is undefined. */
export interface HourlyMemory {
  /** Ring over hour slots: sum and count of the steps of that hour, and which absolute hour it is. */
  readonly hour: Int32Array;
  readonly sum: Float64Array;
  readonly count: Int32Array;
}

export function newHourlyMemory(): HourlyMemory {
  const size = REMEMBERED_DAYS * HOURS_PER_DAY;
  return { hour: new Int32Array(size).fill(-1), sum: new Float64Array(size), count: new Int32Array(size) };
}

export function remember(memory: HourlyMemory, absoluteHour: number, value: number): void {
  const slot = absoluteHour % memory.hour.length;
  if (memory.hour[slot] !== absoluteHour) {
    memory.hour[slot] = absoluteHour;
    memory.sum[slot] = 0;
    memory.count[slot] = 0;
  }
  memory.sum[slot] = (memory.sum[slot] as number) + value;
  memory.count[slot] = (memory.count[slot] as number) + 1;
}

export function recalled(memory: HourlyMemory, absoluteHour: number): number | undefined {
  if (absoluteHour < 0) return undefined;
  const slot = absoluteHour % memory.hour.length;
  const count = memory.count[slot] as number;
  return memory.hour[slot] === absoluteHour && count > 0 ? (memory.sum[slot] as number) / count : undefined;
}

/** Probes of one bench's climate and what they read of late. */
export interface BenchClimate {
  readonly benchId: string;
  readonly has: { temperature: boolean; humidity: boolean; light: boolean };
  readonly bins: { temperatureC: number[]; humidityPct: number[]; solarWPerM2: number[] };
  readonly last: {
    temperatureC: number | undefined;
    temperatureAtMs: number;
    humidityPct: number | undefined;
    humidityAtMs: number;
    solarWPerM2: number | undefined;
    solarAtMs: number;
  };
  readonly memory: Record<ClimateKind, HourlyMemory>;
}

export function newBenchClimate(
  benchId: string,
  has: { temperature: boolean; humidity: boolean; light: boolean },
): BenchClimate {
  return {
    benchId,
    has,
    bins: { temperatureC: [], humidityPct: [], solarWPerM2: [] },
    last: {
      temperatureC: undefined,
      temperatureAtMs: 0,
      humidityPct: undefined,
      humidityAtMs: 0,
      solarWPerM2: undefined,
      solarAtMs: 0,
    },
    memory: {
      temperatureC: newHourlyMemory(),
      vpdKPa: newHourlyMemory(),
      solarWPerM2: newHourlyMemory(),
    },
  };
}

/** Median of a bin of readings; sorts in place. */
export function medianOf(values: number[]): number | undefined {
  if (values.length === 0) return undefined;
  values.sort((a, b) => a - b);
  const middle = values.length >> 1;
  const upper = values[middle] as number;
  return values.length % 2 === 1 ? upper : (upper + (values[middle - 1] as number)) / 2;
}

/** What a bench's own probes say of the step that ends at `atMs`; absent where they are silent. */
export interface OwnClimate {
  readonly temperatureC: number | undefined;
  readonly vpdKPa: number | undefined;
  readonly solarWPerM2: number | undefined;
}

/** Closes the bins of a step: medians in, memory kept, stale values dropped. */
export function closeClimateStep(climate: BenchClimate, atMs: number): OwnClimate {
  const { bins, last } = climate;
  const temperature = medianOf(bins.temperatureC);
  const humidity = medianOf(bins.humidityPct);
  const solar = medianOf(bins.solarWPerM2);
  bins.temperatureC.length = 0;
  bins.humidityPct.length = 0;
  bins.solarWPerM2.length = 0;
  if (temperature !== undefined) {
    last.temperatureC = temperature;
    last.temperatureAtMs = atMs;
  }
  if (humidity !== undefined) {
    last.humidityPct = humidity;
    last.humidityAtMs = atMs;
  }
  if (solar !== undefined) {
    last.solarWPerM2 = solar;
    last.solarAtMs = atMs;
  }
  const fresh = (sinceMs: number): boolean => atMs - sinceMs <= STALE_AFTER_MS;
  const temperatureC = fresh(last.temperatureAtMs) ? last.temperatureC : undefined;
  const humidityPct = fresh(last.humidityAtMs) ? last.humidityPct : undefined;
  return {
    temperatureC,
    vpdKPa:
      temperatureC !== undefined && humidityPct !== undefined ? vpdOf(temperatureC, humidityPct) : undefined,
    solarWPerM2: fresh(last.solarAtMs) ? last.solarWPerM2 : undefined,
  };
}
