import { toInstant } from '../../shared/base/ids.js';
import type { Forecast, HoursQuantiles } from '../../shared/facts/forecast.js';
import type { TrayWhy } from '../../shared/page/page-why.js';
import { HOUR_MS } from './demo-season.js';

/** Evidence of every kind, made up around a forecast: what the page makes of it, not what the model says. */
export function demoWhy(forecast: Forecast | undefined, atMs: number): TrayWhy | undefined {
  if (forecast === undefined) return undefined;
  const hours = forecast.hoursToRefillDriestTenth;
  const by = (moved: number, wider = 0): HoursQuantiles => ({
    p10: Math.max(0, (hours.p10 ?? 100) + moved - wider),
    p50: Math.max(0, (hours.p50 ?? 110) + moved),
    p90: Math.min(120, (hours.p90 ?? 115) + moved + wider),
  });
  const at = (hoursAgo: number): string => toInstant(atMs - hoursAgo * HOUR_MS);
  return {
    tray: forecast.tray,
    at: toInstant(atMs),
    since: at(25),
    hours,
    evidence: [
      { kind: 'pour', at: at(10), ml: 600, source: 'Anna', without: by(-16) },
      { kind: 'probe', source: 'moist-t1', count: 1500, without: by(6.4) },
      { kind: 'cover', without: { p10: 40, p50: null, p90: null } },
      { kind: 'farm-lessons', without: by(3.2) },
      { kind: 'look', at: at(4), level: 2, source: 'Ben', without: by(1.5) },
      { kind: 'air', source: 'temp-south, rh-south', count: 3000, without: by(-0.7) },
      { kind: 'own-lessons', without: by(0.3) },
      { kind: 'others', without: by(0, 2) },
    ],
    supposed: [
      { what: 'sunny', hours: by(-2) },
      { what: 'dull', hours: by(3) },
      { what: 'dry-air', hours: by(-1.2) },
      { what: 'damp-air', hours: by(0.9) },
      { what: 'cover', cover: 'none', hours: by(-4) },
    ],
  };
}
