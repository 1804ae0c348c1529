import type { Forecast } from '../../shared/forecast.js';
import { toInstant } from '../../shared/ids.js';
import type { FarmModel } from '../drying/farm-model.js';
import { hoursQuantiles, probabilityDryWithin, type TrayForecast } from '../drying/tray-forecast.js';

const MS_PER_H = 3_600_000;
/** A forecast is made anew when it is older than this, sooner where a tray may soon be dry. */
const REFRESH_MS = MS_PER_H;
const REFRESH_URGENT_MS = 20 * 60_000;
/** Urgent: the driest tenth may be at the refill point within this many hours at p10. */
const URGENT_H = 3;

function broughtForward(hours: Float64Array, elapsedH: number): Float64Array {
  return hours.map((hour) => Math.max(0, hour - elapsedH));
}

/** What is full and what is refill for one tray, as the model holds it now. */
export interface TrayLevels {
  readonly containerCapacityM3PerM3: number;
  readonly refillPointM3PerM3: number;
}

/**
 * The latest forecast of every tray. An ensemble costs about a millisecond, so between two hours the desk is given
 * the last one brought forward by the time that has passed; it is made anew when the tray's life or water changed.
 */
export class ForecastBook {
  private readonly fresh = new Map<string, TrayForecast>();
  private readonly lastLevels = new Map<string, TrayLevels>();

  constructor(private readonly model: FarmModel) {}

  /** The tray changed: its next forecast is made anew. */
  forget(trayId: string): void {
    this.fresh.delete(trayId);
  }

  /** Every tray's forecast made at `nowMs`, where the model must stand; one that was made at this instant is not made twice. */
  renew(nowMs: number, trayIds: readonly string[]): readonly TrayForecast[] {
    return trayIds.map((trayId) => {
      const last = this.fresh.get(trayId);
      return last?.atMs === nowMs ? last : this.make(trayId);
    });
  }

  /** Forecasts whose hours count from `nowMs`. */
  at(nowMs: number, trayIds: readonly string[]): ReadonlyMap<string, TrayForecast> {
    return new Map(trayIds.map((trayId) => [trayId, this.present(trayId, nowMs)]));
  }

  levels(): ReadonlyMap<string, TrayLevels> {
    return this.lastLevels;
  }

  private make(trayId: string): TrayForecast {
    const forecast = this.model.forecast(trayId);
    this.fresh.set(trayId, forecast);
    this.lastLevels.set(trayId, forecast);
    return forecast;
  }

  private present(trayId: string, nowMs: number): TrayForecast {
    const last = this.fresh.get(trayId);
    if (last === undefined) return this.make(trayId);
    const elapsedMs = nowMs - last.atMs;
    if (elapsedMs <= 0) return last;
    const p10 = last.driestTenthHours[Math.floor(last.driestTenthHours.length / 10)] ?? 0;
    const isStale = elapsedMs > REFRESH_MS || (p10 < URGENT_H && elapsedMs >= REFRESH_URGENT_MS);
    if (isStale) return this.make(trayId);
    const elapsedH = elapsedMs / MS_PER_H;
    return {
      ...last,
      atMs: nowMs,
      meanBlockHours: broughtForward(last.meanBlockHours, elapsedH),
      driestTenthHours: broughtForward(last.driestTenthHours, elapsedH),
    };
  }
}

const round = (value: number, digits: number): number => Number(value.toFixed(digits));

/** A volume share, rounded to what a probe can tell. */
const share = (value: number): number => round(Math.min(1, Math.max(0, value)), 4);

function roundedHours(hours: Float64Array): Forecast['hoursToRefill'] {
  const { p10, p50, p90 } = hoursQuantiles(hours);
  const short = (value: number | null): number | null => (value === null ? null : round(value, 2));
  return { p10: short(p10), p50: short(p50), p90: short(p90) };
}

/** The forecast as it goes out: quantiles, and the chance to last until each coming round. */
export function forecastFact(forecast: TrayForecast, comingRoundsMs: readonly number[]): Forecast {
  return {
    at: toInstant(forecast.atMs),
    tray: forecast.trayId,
    waterContentM3PerM3: share(forecast.waterContentM3PerM3),
    waterContentSdM3PerM3: round(forecast.waterContentSdM3PerM3, 4),
    hoursToRefill: roundedHours(forecast.meanBlockHours),
    hoursToRefillDriestTenth: roundedHours(forecast.driestTenthHours),
    lastsUntilRounds: comingRoundsMs.map((roundMs) => ({
      round: toInstant(roundMs),
      probability: round(
        1 - probabilityDryWithin(forecast.driestTenthHours, (roundMs - forecast.atMs) / MS_PER_H),
        3,
      ),
    })),
    basis: forecast.basis,
    containerCapacityM3PerM3: share(forecast.containerCapacityM3PerM3),
    refillPointM3PerM3: share(forecast.refillPointM3PerM3),
  };
}
