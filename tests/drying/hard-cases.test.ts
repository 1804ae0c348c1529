import { describe, expect, it } from 'vitest';
import type { ProbeSpec } from '../../src/drying/model/farm-model.js';
import { hoursQuantile } from '../../src/drying/model/tray-forecast.js';
import {
  DAY_MS,
  detected,
  farmOf,
  HOUR_MS,
  middleH,
  modelOf,
  moisture,
  play,
  START_MS,
  trayOf,
  voltsOf,
  waterSd,
} from './model-farm.js';

function range(model: ReturnType<typeof modelOf>, trayId: string): number {
  const { meanBlockHours } = model.forecast(trayId);
  return (hoursQuantile(meanBlockHours, 0.9) ?? 120) - (hoursQuantile(meanBlockHours, 0.1) ?? 120);
}

describe('a farm with little to go by', () => {
  it('forecasts in the first hour with a range far wider than after a week of probe', () => {
    const model = modelOf([trayOf('t1')]);
    model.recordWatering('t1', START_MS, undefined);
    model.advanceTo(START_MS + HOUR_MS);
    const first = range(model, 't1');
    expect(middleH(model, 't1')).toBeGreaterThan(6);
    const taught = modelOf([trayOf('t1')]);
    play(taught, { hours: 168, pours: [30, 60, 90, 120, 165].map((atH) => ({ atH, share: 1 })) });
    expect(range(taught, 't1')).toBeLessThan(0.7 * first);
  });

  it('needs no humidity, no light, not even a temperature probe', () => {
    const temperature: ProbeSpec = { id: 'temp-south', kind: 'air-temperature', benchId: 'south' };
    for (const probes of [[temperature, moisture], [moisture], []]) {
      const model = modelOf([trayOf('t1'), trayOf('t2', { benchId: 'north' })], farmOf({ probes }));
      model.recordWatering('t2', START_MS, undefined);
      play(model, { hours: 30 });
      for (const id of ['t1', 't2'])
        for (const hours of model.forecast(id).meanBlockHours) expect(hours).toBeGreaterThanOrEqual(0);
      expect(middleH(model, 't2')).toBeGreaterThan(3);
    }
  });

  it('lets a bench without probes learn from the others', () => {
    const learned = modelOf([trayOf('t1'), trayOf('t2', { benchId: 'north' })]);
    const alone = modelOf([trayOf('t2', { benchId: 'north' })]);
    for (const fromH of [0, 30, 60, 90]) {
      for (const model of [learned, alone]) model.recordWatering('t2', START_MS + fromH * HOUR_MS, undefined);
      play(learned, { hours: 30, fromH, pours: [{ atH: fromH + 28, share: 1 }] });
      alone.advanceTo(START_MS + (fromH + 30) * HOUR_MS);
    }
    for (const model of [learned, alone]) {
      model.recordWatering('t2', START_MS + 120 * HOUR_MS, undefined);
      model.advanceTo(START_MS + 121 * HOUR_MS);
    }
    expect(range(learned, 't2')).toBeLessThan(range(alone, 't2'));
    expect(learned.forecast('t2').basis).toBe('shared');
    expect(alone.forecast('t2').basis).toBe('prior');
  });
});

describe('a probe in trouble', () => {
  it('that is flagged or silent leaves the state to the model, which widens', () => {
    const model = modelOf([trayOf('t1')]);
    play(model, { hours: 36, pours: [{ atH: 28, share: 1 }] });
    const before = model.forecast('t1');
    for (let minute = 36 * 60; minute <= 60 * 60; minute += 10) {
      const atMs = START_MS + minute * 60_000;
      model.observe('moist-t1', atMs, voltsOf(0.55), 4);
      model.observe('temp-south', atMs, 20, 1);
    }
    model.advanceTo(START_MS + 60 * HOUR_MS);
    expect(model.forecast('t1').waterContentM3PerM3).toBeLessThan(before.waterContentM3PerM3 - 0.03);
    expect(waterSd(model, 't1')).toBeGreaterThan(1.5 * before.waterContentSdM3PerM3);
    expect(model.forecast('t1').basis).not.toBe('probe');
  });

  it('that loses touch does not take the tray with it', () => {
    const model = modelOf([trayOf('t1')]);
    play(model, { hours: 20 });
    const before = model.forecast('t1').waterContentM3PerM3;
    const lost = play(model, { hours: 5, fromH: 20.1, startWater: before - 0.2 });
    expect(model.forecast('t1').waterContentM3PerM3).toBeGreaterThan(before - 0.13);
    expect(detected(lost)).toEqual([]);
  });

  it('reads a value that is no number: nothing happens', () => {
    const model = modelOf([trayOf('t1')]);
    play(model, { hours: 6 });
    for (const value of [Number.NaN, Number.POSITIVE_INFINITY, undefined]) {
      model.observe('moist-t1', START_MS + 6.2 * HOUR_MS, value, 1);
      model.observe('temp-south', START_MS + 6.2 * HOUR_MS, value, 1);
    }
    model.advanceTo(START_MS + 8 * HOUR_MS);
    expect(Number.isFinite(model.forecast('t1').waterContentM3PerM3)).toBe(true);
  });

  it('carried to another tray takes its knowledge of the first one along only as shared factors', () => {
    const model = modelOf([trayOf('t1'), trayOf('t2')]);
    play(model, { hours: 24 });
    model.attachProbe('moist-t1', 't2', START_MS + 24 * HOUR_MS);
    play(model, { hours: 6, fromH: 24.1, startWater: 0.58 });
    expect(model.forecast('t2').basis).toBe('probe');
    expect(model.explain('t1').lines.some((line) => line.quantity.includes('moist-t1'))).toBe(false);
  });
});

describe('what happens to trays', () => {
  it('a cover slows the drying and taking it off quickens it again', () => {
    const model = modelOf([trayOf('t2')]);
    model.recordWatering('t2', START_MS, undefined);
    model.advanceTo(START_MS + 2 * HOUR_MS);
    const open = middleH(model, 't2');
    model.setCover('t2', 'loose-dome', START_MS + 2 * HOUR_MS);
    expect(middleH(model, 't2')).toBeGreaterThan(1.5 * open);
    model.setCover('t2', 'none', START_MS + 3 * HOUR_MS);
    expect(middleH(model, 't2')).toBeLessThan(1.3 * open);
  });

  it('a gap of two days runs on and widens, and a reading brings the tray back', () => {
    const model = modelOf([trayOf('t1')]);
    play(model, { hours: 36, pours: [{ atH: 28, share: 1 }] });
    const before = waterSd(model, 't1');
    model.advanceTo(START_MS + 60 * HOUR_MS);
    expect(waterSd(model, 't1')).toBeGreaterThan(1.5 * before);
    model.advanceTo(START_MS + 84 * HOUR_MS);
    play(model, { hours: 12, fromH: 84, startWater: 0.3 });
    expect(model.forecast('t1').waterContentM3PerM3).toBeLessThan(0.36);
  });

  it('moving keeps the water and takes the other bench’s climate', () => {
    const model = modelOf([trayOf('t1')]);
    play(model, { hours: 20 });
    const before = model.forecast('t1').waterContentM3PerM3;
    model.moveTray('t1', 'north', START_MS + 20 * HOUR_MS);
    expect(model.forecast('t1').waterContentM3PerM3).toBeCloseTo(before, 2);
  });

  it('trays that come and go all season leave nothing behind', () => {
    const model = modelOf([]);
    const sizeAt = (): number => JSON.stringify(model.snapshot()).length;
    let early = 0;
    for (let week = 0; week < 30; week++) {
      const atMs = START_MS + week * 7 * DAY_MS;
      for (let i = 0; i < 6; i++) model.addTray(trayOf(`w${week}-${i}`), atMs);
      model.advanceTo(atMs + 2 * DAY_MS);
      for (let i = 0; i < 6; i++) model.endTray(`w${week}-${i}`, atMs + 3 * DAY_MS);
      if (week === 2) early = sizeAt();
    }
    expect(sizeAt()).toBeLessThan(1.1 * early);
    expect(() => model.forecast('w3-1')).toThrow(RangeError);
  });

  it('a change of the farm’s clock changes nothing', () => {
    const forecasts = [() => 60, (atMs: number) => (atMs > START_MS + 12 * HOUR_MS ? 120 : 60)].map(
      (utcOffsetMin) => {
        const model = modelOf([trayOf('t1')], farmOf({ utcOffsetMin }));
        play(model, { hours: 24 });
        return model.forecast('t1');
      },
    );
    expect(forecasts[1]).toEqual(forecasts[0]);
  });
});

describe('what growers tell', () => {
  it('"ready for water" teaches where the refill point lies when it was not configured', () => {
    const unknown = trayOf('t1', { refillPointM3PerM3: undefined, containerCapacityM3PerM3: undefined });
    const model = modelOf([unknown]);
    play(model, { hours: 30 });
    const at = model.forecast('t1').waterContentM3PerM3;
    for (let i = 0; i < 3; i++) model.recordReady('t1', START_MS + 30 * HOUR_MS + i);
    expect(Math.abs(model.forecast('t1').refillPointM3PerM3 - at)).toBeLessThan(0.04);
  });

  it('weighings by hand follow the loss gram for gram once a full tray was weighed', () => {
    const model = modelOf([trayOf('t2')]);
    const trayMl = 72 * 3.8 ** 3;
    model.recordWatering('t2', START_MS, undefined);
    model.advanceTo(START_MS + 2 * HOUR_MS);
    const full = model.forecast('t2').waterContentM3PerM3;
    model.recordWeight('t2', 640 + trayMl * (0.2 + full), START_MS + 2 * HOUR_MS);
    model.recordWeight('t2', 640 + trayMl * (0.2 + full - 0.15), START_MS + 26 * HOUR_MS);
    expect(model.forecast('t2').waterContentM3PerM3).toBeCloseTo(full - 0.15, 1);
    expect(waterSd(model, 't2')).toBeLessThan(0.035);
  });

  it('a look moves the state towards what the eye saw', () => {
    const model = modelOf([trayOf('t2')]);
    model.advanceTo(START_MS + 10 * HOUR_MS);
    const before = model.forecast('t2').waterContentM3PerM3;
    model.recordLook('t2', 1, START_MS + 10 * HOUR_MS);
    expect(model.forecast('t2').waterContentM3PerM3).toBeLessThan(before);
  });
});
