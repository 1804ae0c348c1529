import { toInstant } from '../../../shared/base/ids.js';
import type { Fact, JudgedReading } from '../../../src/monitor/ports/facts.js';

export const NOON_MS = Date.parse('2026-04-18T12:00:00Z');
export const MINUTE_MS = 60_000;
export const HOUR_MS = 3_600_000;

export function reading(probeId: string, observedAtMs: number, more: Partial<JudgedReading> = {}): Fact {
  return {
    kind: 'reading',
    reading: {
      probeId,
      observedAtMs,
      rawValue: 21.5,
      rawUnit: 'Cel',
      waterContentM3PerM3: undefined,
      flag: 1,
      flagReasons: [],
      calibrationId: undefined,
      ...more,
    },
  };
}

export function moisture(
  probeId: string,
  observedAtMs: number,
  waterContentM3PerM3: number,
  more: Partial<JudgedReading> = {},
): Fact {
  return reading(probeId, observedAtMs, {
    rawUnit: 'V',
    rawValue: 3 - 2.5 * waterContentM3PerM3,
    waterContentM3PerM3,
    calibrationId: 'cal-1',
    ...more,
  });
}

export function forecast(tray: string, atMs: number, waterContentM3PerM3: number): Fact {
  return {
    kind: 'forecast',
    forecast: {
      at: toInstant(atMs),
      tray,
      waterContentM3PerM3,
      waterContentSdM3PerM3: 0.02,
      hoursToRefill: { p10: 6.1, p50: 8, p90: null },
      hoursToRefillDriestTenth: { p10: 4, p50: 5.5, p90: 9 },
      lastsUntilRounds: [{ round: toInstant(atMs + 6 * HOUR_MS), probability: 0.83 }],
      basis: 'probe',
      containerCapacityM3PerM3: 0.6123,
      refillPointM3PerM3: 0.3124,
    },
  };
}

export function newTray(tray: string, atMs: number, blockSideMm = 19): Fact {
  return {
    kind: 'tray-event',
    event: {
      at: toInstant(atMs),
      tray,
      event: 'new',
      bench: 'south',
      blockSideMm,
      blockCount: 280,
      crop: 'celery',
      sownAt: toInstant(atMs - 48 * HOUR_MS),
    },
  };
}

export function alarm(
  tray: string,
  atMs: number,
  state: 'unacknowledged' | 'normal' = 'unacknowledged',
): Fact {
  return { kind: 'alarm', transition: { at: toInstant(atMs), kind: 'refill', state, tray } };
}

export function note(atMs: number, text: string): Fact {
  return { kind: 'note', at: toInstant(atMs), by: 'Mira', text };
}
