import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import type { ClimateStep, OwnClimate } from '../climate/bench-climate.js';
import { LOCAL } from '../filter/layout.js';
import { meanLocal, soakH, type TrayState, wickingH } from '../filter/tray-state.js';
import type { DryDown, ModelEvent } from '../model/farm-model.js';

/** Falls shorter than this are no dry-downs but corrections, h. */
const LEAST_DRYDOWN_H = 1.5;
/** Steps of a tray's own past that a late word may need, h. */
const TRACE_H = 12;

/** When the blocks of a tray poured at this instant begin to dry again. */
export function soakedAtMs(tray: TrayState, pouredAtMs: number): number {
  return pouredAtMs + soakH(tray.spec.blockSideMm) * MS_PER_HOUR;
}

/** Closes the running dry-down at a pour and opens the next; returns the finished one, if it was one. */
export function turnDryDown(
  tray: TrayState,
  pouredAtMs: number,
  waterBefore: number,
): ModelEvent | undefined {
  const open = tray.dryDown;
  tray.dryDown = {
    startedAtMs: pouredAtMs,
    startWaterContentM3PerM3: meanLocal(tray, LOCAL.water),
    refillReachedAtMs: undefined,
    sumTemperatureC: 0,
    sumVpdKPa: 0,
    sumSolarWPerM2: 0,
    temperatureSteps: 0,
    vpdSteps: 0,
    solarSteps: 0,
  };
  tray.trace = [];
  tray.soakingUntilMs = soakedAtMs(tray, pouredAtMs);
  tray.wickingUntilMs = pouredAtMs + wickingH(tray.spec.blockSideMm) * MS_PER_HOUR;
  if (open === undefined || pouredAtMs - open.startedAtMs < LEAST_DRYDOWN_H * MS_PER_HOUR) return undefined;
  tray.finishedDryDowns++;
  const mean = (sum: number, steps: number): number | undefined => (steps > 0 ? sum / steps : undefined);
  const dryDown: DryDown = {
    trayId: tray.id,
    startedAtMs: open.startedAtMs,
    endedAtMs: pouredAtMs,
    startWaterContentM3PerM3: open.startWaterContentM3PerM3,
    endWaterContentM3PerM3: waterBefore,
    refillReachedAtMs: open.refillReachedAtMs,
    refillPointM3PerM3: meanLocal(tray, LOCAL.refill),
    meanTemperatureC: mean(open.sumTemperatureC, open.temperatureSteps),
    meanVpdKPa: mean(open.sumVpdKPa, open.vpdSteps),
    meanSolarWPerM2: mean(open.sumSolarWPerM2, open.solarSteps),
    hasProbe: tray.probes.length > 0,
  };
  return { kind: 'dry-down-finished', dryDown };
}

/** Adds one step to the running dry-down and to the tray's short memory of its own water content. */
export function bookStep(tray: TrayState, atMs: number, own: OwnClimate, weather: ClimateStep): void {
  const water = meanLocal(tray, LOCAL.water);
  tray.trace.push({ atMs, water });
  while ((tray.trace[0]?.atMs ?? atMs) < atMs - TRACE_H * MS_PER_HOUR) tray.trace.shift();
  const open = tray.dryDown;
  if (open === undefined) return;
  if (own.temperatureC !== undefined) {
    open.sumTemperatureC += weather.temperatureC;
    open.temperatureSteps++;
  }
  if (own.vpdKPa !== undefined) {
    open.sumVpdKPa += weather.vpdKPa;
    open.vpdSteps++;
  }
  if (own.solarWPerM2 !== undefined) {
    open.sumSolarWPerM2 += weather.solarWPerM2;
    open.solarSteps++;
  }
  if (open.refillReachedAtMs === undefined && water <= meanLocal(tray, LOCAL.refill))
    open.refillReachedAtMs = atMs;
}

/** Water content lost since an instant of the last hours by the tray's own record, m³/m³, 0 when unknown. */
export function driedSince(tray: TrayState, sinceMs: number): number {
  const first = tray.trace.find((entry) => entry.atMs >= sinceMs);
  const last = tray.trace[tray.trace.length - 1];
  if (first === undefined || last === undefined) return 0;
  return Math.max(0, first.water - last.water);
}
