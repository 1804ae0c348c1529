import { toInstant } from '../../../../shared/base/ids.js';
import type { Forecast } from '../../../../shared/facts/forecast.js';
import type { FarmModel } from '../../../drying/model/farm-model.js';
import {
  broughtForward,
  fallAfter,
  hoursQuantiles,
  probabilityDryWithin,
  type TrayForecast,
} from '../../../drying/model/tray-forecast.js';

const MS_PER_H = 3_600_000;
/** A forecast is made anew when it is older than this, sooner where a tray may soon be dry. */
const REFRESH_MS = MS_PER_H;
const REFRESH_URGENT_MS = 20 * 60_000;
/** Urgent: the driest tenth may be at the refill point within this many hours at p10. */
const URGENT_H = 3;

/** Made anew too where the tray's water has gone elsewhere than the forecast thought, by this much, m³/m³ (judgement: two points). */
const SURPRISE_M3_PER_M3 = 0.02;

function isOld(forecast: TrayForecast, nowMs: number): boolean {
  const elapsedMs = nowMs - forecast.atMs;
  const p10 = forecast.driestTenthHours[Math.floor(forecast.driestTenthHours.length / 10)] ?? 0;
  return elapsedMs > REFRESH_MS || (p10 < URGENT_H && elapsedMs >= REFRESH_URGENT_MS);
}

/** A forecast and what the model took the tray's mean water for when it was made, m³/m³. */
interface Made {
  readonly forecast: TrayForecast;
  readonly meanWater: number;
}

/** What is full and what is refill for one tray, as the model holds it now. */
export interface TrayLevels {
  readonly containerCapacityM3PerM3: number;
  readonly refillPointM3PerM3: number;
}

/**
 * The latest forecast of every tray. An ensemble costs about a millisecond, so between two hours the desk is given the last one
 * brought forward: hours by the time that has passed, water by what the model has made of the readings since. It is made anew when
 * the tray's life or water changed, or when readings have surprised it.
 */
export class ForecastBook {
  private readonly fresh = new Map<string, Made>();
  private readonly untold = new Set<string>();
  private readonly told = new Map<string, TrayForecast>();
  private readonly lastLevels = new Map<string, TrayLevels>();

  constructor(private readonly model: FarmModel) {}

  /** The tray changed: its next forecast is made anew, and is news. */
  forget(trayId: string): void {
    this.fresh.delete(trayId);
    this.told.delete(trayId);
    this.untold.add(trayId);
  }

  /** Everything is news, as at a start. */
  forgetAll(trayIds: readonly string[]): void {
    for (const trayId of trayIds) this.forget(trayId);
  }

  /** Every tray's forecast made at `nowMs`, where the model must stand; one that was made or told at this instant is not made or told twice. */
  renew(nowMs: number, trayIds: readonly string[]): readonly TrayForecast[] {
    const made = trayIds.map((trayId) => {
      const last = this.fresh.get(trayId)?.forecast;
      return last?.atMs === nowMs ? last : this.make(trayId);
    });
    return this.newsOf(made);
  }

  /** What trays come to that changed or surprised since this was last asked for. */
  takeUntold(trayIds: readonly string[]): readonly TrayForecast[] {
    const changed = trayIds.filter((trayId) => this.untold.has(trayId));
    return this.newsOf(changed.map((trayId) => this.fresh.get(trayId)?.forecast ?? this.make(trayId)));
  }

  /** Those of the forecasts that were not told before. */
  private newsOf(forecasts: readonly TrayForecast[]): readonly TrayForecast[] {
    this.untold.clear();
    const news = forecasts.filter((forecast) => this.told.get(forecast.trayId) !== forecast);
    for (const forecast of news) this.told.set(forecast.trayId, forecast);
    return news;
  }

  /** Forecasts whose hours count from `nowMs`. */
  at(nowMs: number, trayIds: readonly string[]): ReadonlyMap<string, TrayForecast> {
    return new Map(trayIds.map((trayId) => [trayId, this.present(trayId, nowMs)]));
  }

  /** The same as far as they have been made, without making any. */
  known(nowMs: number, trayIds: readonly string[]): readonly TrayForecast[] {
    return trayIds.flatMap((trayId) => {
      const made = this.fresh.get(trayId);
      return made === undefined ? [] : [this.forward(made, nowMs)];
    });
  }

  levels(): ReadonlyMap<string, TrayLevels> {
    return this.lastLevels;
  }

  private make(trayId: string): TrayForecast {
    const forecast = this.model.forecast(trayId);
    this.fresh.set(trayId, { forecast, meanWater: this.model.meanWater(trayId) });
    this.lastLevels.set(trayId, forecast);
    return forecast;
  }

  private present(trayId: string, nowMs: number): TrayForecast {
    const last = this.fresh.get(trayId);
    if (last === undefined) return this.make(trayId);
    if (this.isSurprised(last, nowMs)) this.untold.add(trayId);
    else if (!isOld(last.forecast, nowMs)) return this.forward(last, nowMs);
    return this.make(trayId);
  }

  private isSurprised({ forecast, meanWater }: Made, nowMs: number): boolean {
    const expected = fallAfter(forecast, (nowMs - forecast.atMs) / MS_PER_H);
    const fallen = meanWater - this.model.meanWater(forecast.trayId);
    return nowMs > forecast.atMs && Math.abs(fallen - expected) > SURPRISE_M3_PER_M3;
  }

  private forward({ forecast, meanWater }: Made, nowMs: number): TrayForecast {
    const elapsedMs = nowMs - forecast.atMs;
    if (elapsedMs <= 0) return forecast;
    const water = forecast.waterContentM3PerM3 + this.model.meanWater(forecast.trayId) - meanWater;
    return {
      ...broughtForward(forecast, elapsedMs / MS_PER_H),
      atMs: nowMs,
      waterContentM3PerM3: Math.min(1, Math.max(0, water)),
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
