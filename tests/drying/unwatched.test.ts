import { describe, expect, it } from 'vitest';
import type { FarmModel, FarmModelSpec, TraySpec } from '../../src/drying/model/farm-model.js';
import { createFarmModel } from '../../src/drying/whole/create-farm-model.js';

const HOUR_MS = 3_600_000;
const START_MS = Date.UTC(2026, 3, 18, 5);
const DRY = { volts: 2.21, waterContentM3PerM3: 0.155 };
const WET = { volts: 1.33, waterContentM3PerM3: 0.581 };

const farm: FarmModelSpec = {
  benches: [{ id: 'south' }],
  probes: [
    { id: 'temp-south', kind: 'air-temperature', benchId: 'south' },
    { id: 'moist-t1', kind: 'block-moisture', trayId: 't1', calibration: [DRY, WET] },
  ],
  utcOffsetMin: () => 120,
  seed: 7,
};

function tray(id: string): TraySpec {
  return {
    id,
    benchId: 'south',
    blockSideMm: 19,
    blockCount: 280,
    containerCapacityM3PerM3: 0.6,
    refillPointM3PerM3: 0.35,
    cover: 'none',
  };
}

function voltsAt(water: number): number {
  const share = (water - DRY.waterContentM3PerM3) / (WET.waterContentM3PerM3 - DRY.waterContentM3PerM3);
  return DRY.volts + share * (WET.volts - DRY.volts);
}

/** Feeds a steady probe and a mild night for some hours; returns the end. */
function feed(model: FarmModel, fromMs: number, hours: number, water: number): number {
  for (let minute = 0; minute < hours * 60; minute += 5) {
    model.observe('temp-south', fromMs + minute * 60_000, 14, 1);
    model.observe('moist-t1', fromMs + minute * 60_000, voltsAt(water), 1);
  }
  model.advanceTo(fromMs + hours * HOUR_MS);
  return fromMs + hours * HOUR_MS;
}

describe('a tray that nobody watched', () => {
  const sownMs = START_MS - 20 * 24 * HOUR_MS;

  it('sown weeks before the first reading stands where its probe says, not run dry', () => {
    const model = createFarmModel(farm);
    model.addTray(tray('t1'), sownMs);
    model.setSown('t1', sownMs);
    feed(model, START_MS, 2, 0.56);
    expect(Math.abs(model.forecast('t1').waterContentM3PerM3 - 0.56)).toBeLessThan(0.04);
  });

  it('and has no probe is as unsure as a new one at the first reading of the farm', () => {
    const long = createFarmModel(farm);
    long.addTray(tray('t2'), sownMs);
    const fresh = createFarmModel(farm);
    fresh.addTray(tray('t2'), START_MS);
    for (const model of [long, fresh]) {
      model.observe('temp-south', START_MS, 14, 1);
      model.advanceTo(START_MS);
    }
    const [a, b] = [long.forecast('t2'), fresh.forecast('t2')];
    expect(a.waterContentM3PerM3).toBeCloseTo(b.waterContentM3PerM3, 2);
    expect(a.waterContentSdM3PerM3).toBeCloseTo(b.waterContentSdM3PerM3, 2);
  });

  it('keeps a pour told just before the first reading', () => {
    const model = createFarmModel(farm);
    model.addTray(tray('t2'), sownMs);
    model.recordWatering('t2', START_MS - HOUR_MS, undefined);
    model.observe('temp-south', START_MS, 14, 1);
    model.advanceTo(START_MS);
    expect(model.forecast('t2').waterContentM3PerM3).toBeGreaterThan(0.55);
  });

  it('makes little of a pour told eight days before the first reading', () => {
    const model = createFarmModel(farm);
    model.addTray(tray('t2'), sownMs);
    model.recordWatering('t2', START_MS - 8 * 24 * HOUR_MS, undefined);
    model.observe('temp-south', START_MS, 14, 1);
    model.advanceTo(START_MS);
    expect(model.forecast('t2').waterContentM3PerM3).toBeGreaterThan(0.45);
  });

  it('and was watered while its probe was silent for three days is believed when the probe speaks', () => {
    const model = createFarmModel(farm);
    model.addTray(tray('t1'), START_MS);
    model.recordWatering('t1', START_MS - HOUR_MS, undefined);
    const silentFromMs = feed(model, START_MS, 12, 0.57);
    feed(model, silentFromMs + 72 * HOUR_MS, 3, 0.55);
    expect(Math.abs(model.forecast('t1').waterContentM3PerM3 - 0.55)).toBeLessThan(0.04);
  });
});
