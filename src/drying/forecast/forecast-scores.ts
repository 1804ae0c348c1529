import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import type { BenchOutlook } from '../climate/outlook.js';
import { LEAST_SCORED_FALL, SCORED_EVERY_H, SCORED_LEADS_H, scoreOutcome } from '../climate/spread-score.js';
import type { Farm } from '../filter/farm-state.js';
import { LOCAL } from '../filter/layout.js';
import { isHandScale } from '../filter/probe-state.js';
import { meanLocal, type TrayState } from '../filter/tray-state.js';
import { TENTHS } from '../model/tray-forecast.js';
import { lookAhead, outlookOfTray } from './forecast-tray.js';
import { ensembleDrawdown } from './tray-ensemble.js';

/** At a full hour: keeps a forecast of each tray that can be scored and has none from the last hours, whoever else asked for one. */
export function keepForecastsToScore(farm: Farm, atMs: number): void {
  const outlooks = new Map<string, BenchOutlook>();
  for (const tray of farm.memory.trays.values()) {
    if (!isScored(tray, atMs)) continue;
    const outlook = outlooks.get(tray.benchId) ?? outlookOfTray(farm, tray, atMs);
    outlooks.set(tray.benchId, outlook);
    const { sampled, drive } = lookAhead(farm, tray, outlook, atMs);
    awaitForecast(tray, atMs, ensembleDrawdown(sampled, drive, outlook, SCORED_LEADS_H));
  }
}

function isScored(tray: TrayState, atMs: number): boolean {
  if (tray.probes.every(isHandScale) || atMs < tray.wickingUntilMs || tray.beliefs.length > 1) return false;
  const last = tray.awaited[tray.awaited.length - 1];
  return last === undefined || atMs - last.madeAtMs >= SCORED_EVERY_H * MS_PER_HOUR;
}

function awaitForecast(tray: TrayState, atMs: number, falls: readonly Float64Array[]): void {
  const startWater = meanLocal(tray, LOCAL.water);
  falls.forEach((fall, i) => {
    const leadH = SCORED_LEADS_H[i];
    const at = (share: number): number => fall[Math.round(share * (fall.length - 1))] ?? 0;
    if (leadH !== undefined)
      tray.awaited.push({
        madeAtMs: atMs,
        dueAtMs: atMs + leadH * MS_PER_HOUR,
        leadH,
        startWater,
        fall: [at(TENTHS.p10), at(TENTHS.p50), at(TENTHS.p90)],
      });
  });
}

/**
 * Scores what has come due against the fall that the probe-fed state has seen since: the fall, not the level, for the
 * level shares its error with the forecast. A pour strikes out all that were waiting.
 */
export function scoreStoredForecasts(farm: Farm, tray: TrayState, atMs: number): void {
  if (tray.awaited.length === 0) return;
  const pouredAtMs = tray.lastPour?.atMs ?? Number.NEGATIVE_INFINITY;
  const water = meanLocal(tray, LOCAL.water);
  tray.awaited = tray.awaited.filter((awaited) => {
    if (pouredAtMs > awaited.madeAtMs) return false;
    if (atMs < awaited.dueAtMs) return true;
    const fell = awaited.startWater - water;
    const [p10, p50, p90] = awaited.fall;
    if (p50 >= LEAST_SCORED_FALL) scoreOutcome(farm.memory.score, awaited.leadH, fell >= p10 && fell <= p90);
    return false;
  });
}
