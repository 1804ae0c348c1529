import type { Fact } from '../../src/monitor/ports/facts.js';
import type { LogRow } from './scenario.js';

/** Hours to refill of the mean block; 120 stands for "beyond the horizon". */
export interface HoursTriple {
  readonly p10: number;
  readonly p50: number;
  readonly p90: number;
}

export const HORIZON_H = 120;

/** Whoever forecasts gets the same recorded rows in the order of time, and is asked at each full hour. */
export interface Forecaster {
  readonly name: string;
  reading(probeId: string, atMs: number, value: number): void;
  event(row: LogRow): void;
  /** Everything recorded up to and including this instant has been handed over. */
  advance(toMs: number): void;
  forecast(trayId: string, atMs: number): HoursTriple;
  /** What it announced, and everything else that it told, since the last call; absent: it only forecasts. */
  takeFacts?(): readonly Fact[];
}

export function capped(hours: number): number {
  return Number.isFinite(hours) ? Math.min(HORIZON_H, Math.max(0, hours)) : HORIZON_H;
}
