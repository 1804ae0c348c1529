import { describe, expect, it } from 'vitest';
import type { ProbeConfig } from '../../shared/config/kit/probes.js';
import { ExpectedDrying, type StandingTrays } from '../../src/monitor/readings/expected-drying.js';
import type { TrayNow } from '../../src/watering/desk/watering-desk.js';

const HOUR_MS = 3_600_000;
const START_MS = Date.parse('2026-04-18T10:00:00Z');
const TEMPERATURE: ProbeConfig = { id: 'temp-south', kind: 'air-temperature', bench: 'south' };
const HUMIDITY: ProbeConfig = { id: 'rh-south', kind: 'relative-humidity', bench: 'south' };
const LIGHT: ProbeConfig = { id: 'light-south', kind: 'light', bench: 'south', unit: 'lx' };
const TRAY: TrayNow = {
  id: 't1',
  benchId: 'south',
  blockSideMm: 19,
  blockCount: 280,
  cover: 'none',
  startedAtMs: START_MS,
  hasProbe: true,
};

/** This tray on the bench, the probe in the one named. */
function standing(tray: TrayNow, inTray = 't1'): StandingTrays {
  return {
    trays: () => [tray],
    probeTrays: () => new Map([['moist-t1', inTray]]),
  };
}

function withAir(temperatureC: number, relativeHumidityPct: number, lux?: number): ExpectedDrying {
  const expected = new ExpectedDrying();
  expected.noteClimate(TEMPERATURE, START_MS, temperatureC);
  expected.noteClimate(HUMIDITY, START_MS, relativeHumidityPct);
  if (lux !== undefined) expected.noteClimate(LIGHT, START_MS, lux);
  return expected;
}

function hourly(expected: ExpectedDrying, tray: TrayNow = TRAY, trays = standing(tray)): number | undefined {
  expected.sinceLast('moist-t1', START_MS, trays);
  return expected.sinceLast('moist-t1', START_MS + HOUR_MS / 12, trays);
}

describe('ExpectedDrying', () => {
  it('expects little and never too much: under half of what a mini loses when mild, more in sun', () => {
    const mild = hourly(withAir(20, 60)) ?? Number.NaN;
    expect(12 * mild).toBeGreaterThan(0.001);
    expect(12 * mild).toBeLessThan(0.006);
    expect(hourly(withAir(20, 60, 40_000))).toBeGreaterThan(2 * mild);
    expect(hourly(withAir(20, 60), { ...TRAY, cover: 'tight-dome' })).toBeCloseTo(0.05 * mild, 12);
    // no more than a twentieth of that where the air is told as saturated
    expect(hourly(withAir(20, 100))).toBeLessThan(0.05 * mild);
  });

  it('expects nothing where the air is not known, is stale, or the probe stands nowhere', () => {
    expect(hourly(new ExpectedDrying())).toBeUndefined();
    const stale = withAir(20, 60);
    expect(stale.sinceLast('moist-t1', START_MS + 3 * HOUR_MS, standing(TRAY))).toBeUndefined();
    expect(hourly(withAir(20, 60), TRAY, { ...standing(TRAY), probeTrays: () => new Map() })).toBeUndefined();
    expect(hourly(withAir(20, 60), { ...TRAY, id: 't2' })).toBeUndefined();
  });

  it('follows a probe that is carried to another tray', () => {
    const expected = withAir(20, 60);
    const mini = hourly(expected) ?? Number.NaN;
    const large = { ...TRAY, id: 't2', blockSideMm: 51, blockCount: 48 };
    const next = expected.sinceLast('moist-t1', START_MS + HOUR_MS / 6, standing(large, 't2')) ?? Number.NaN;
    expect(next).toBeGreaterThan(0);
    expect(next).toBeLessThan(mini);
  });
});
