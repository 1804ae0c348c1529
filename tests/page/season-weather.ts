import type { SeasonTray } from './season-trays.js';

const DAY_MS = 86_400_000;

/** Seeded numbers from 0 to 1 (mulberry32, public domain): the same season each time. */
export function seededRandom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** Air on the bench: a bright or dull day of its own for each date, warmer as spring goes on. */
export function seasonAir(atMs: number) {
  const day = Math.floor(atMs / DAY_MS);
  const bright = 0.35 + 0.65 * seededRandom(day * 31)();
  const hour = (atMs % DAY_MS) / 3_600_000;
  const sun = Math.max(0, Math.sin(((hour - 4.5) / 14) * Math.PI)) * bright;
  const spring = (day % 365) / 365;
  const temperatureC = 9 + spring * 14 + sun * 11;
  const relativeHumidityPct = 82 - sun * 38;
  const saturationKPa = 0.6108 * Math.exp((17.27 * temperatureC) / (temperatureC + 237.3));
  return {
    temperatureC,
    relativeHumidityPct,
    lightLx: sun * 52_000,
    vpdKPa: saturationKPa * (1 - relativeHumidityPct / 100),
    sun,
  };
}

/** How fast a block dries, m3/m3 per hour: small ones faster, sun and dry air faster, slower when nearly dry. */
export function dryingPerH(tray: SeasonTray, waterContent: number, atMs: number): number {
  const { vpdKPa, sun } = seasonAir(atMs);
  const bench = tray.bench === 'south' ? 1.15 : 0.85;
  const wet = Math.min(1, Math.max(0, (waterContent - 0.12) / (tray.refill - 0.12)));
  return ((0.004 + 0.011 * vpdKPa + 0.009 * sun) * bench * wet * 19) / tray.blockSideMm ** 0.94;
}
