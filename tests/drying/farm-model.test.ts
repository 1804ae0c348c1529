import { describe, expect, it } from 'vitest';
import type { FarmModelSpec, TraySpec } from '../../src/drying/model/farm-model.js';
import { hoursQuantile } from '../../src/drying/model/tray-forecast.js';
import { createFarmModel } from '../../src/drying/whole/create-farm-model.js';

const HOUR_MS = 3_600_000;
const START_MS = Date.UTC(2026, 3, 18, 5);

const farm: FarmModelSpec = {
  benches: [{ id: 'south' }],
  probes: [
    { id: 'temp-south', kind: 'air-temperature', benchId: 'south' },
    { id: 'rh-south', kind: 'relative-humidity', benchId: 'south' },
    {
      id: 'moist-t1',
      kind: 'block-moisture',
      trayId: 't1',
      calibration: [
        { volts: 2.21, waterContentM3PerM3: 0.155 },
        { volts: 1.33, waterContentM3PerM3: 0.581 },
      ],
    },
  ],
  utcOffsetMin: () => 120,
  latitudeDeg: 52,
  longitudeDeg: 13,
  seed: 7,
};

function tray(id: string, blockSideMm: number, blockCount: number): TraySpec {
  return {
    id,
    benchId: 'south',
    blockSideMm,
    blockCount,
    containerCapacityM3PerM3: 0.6,
    refillPointM3PerM3: 0.35,
    cover: 'none',
  };
}

const sizes = [tray('t1', 19, 280), tray('t2', 38, 72), tray('t3', 51, 48)];

function watered(spec: FarmModelSpec = farm): ReturnType<typeof createFarmModel> {
  const model = createFarmModel(spec);
  for (const one of sizes) model.addTray(one, START_MS);
  for (const one of sizes) model.recordWatering(one.id, START_MS, undefined);
  return model;
}

describe('createFarmModel()', () => {
  it('forecasts every tray in the first hour, larger blocks later', () => {
    const model = watered();
    model.advanceTo(START_MS);
    const [mini, middle, large] = sizes.map((one) =>
      hoursQuantile(model.forecast(one.id).meanBlockHours, 0.5),
    );
    expect(mini).toBeGreaterThan(3);
    expect(middle ?? 120).toBeGreaterThan((mini ?? 120) * 1.5);
    expect(large ?? 120).toBeGreaterThanOrEqual(middle ?? 120);
  });

  it('puts the driest tenth before the mean block', () => {
    const model = watered();
    model.advanceTo(START_MS + HOUR_MS);
    for (const one of sizes) {
      const forecast = model.forecast(one.id);
      for (const share of [0.1, 0.5, 0.9])
        expect(hoursQuantile(forecast.driestTenthHours, share) ?? 120).toBeLessThanOrEqual(
          hoursQuantile(forecast.meanBlockHours, share) ?? 120,
        );
    }
  });

  it('continues bit by bit from a snapshot that went through JSON', () => {
    const model = watered();
    const feed = (one: typeof model, fromH: number, toH: number): void => {
      for (let minute = fromH * 60; minute < toH * 60; minute += 5) {
        const atMs = START_MS + minute * 60_000;
        one.observe('temp-south', atMs, 19 + 4 * Math.sin(minute / 230), 1);
        one.observe('rh-south', atMs, 60, 1);
        one.observe('moist-t1', atMs, 1.35 + minute * 0.0004, 1);
      }
    };
    feed(model, 0, 9);
    const restored = createFarmModel(farm, JSON.parse(JSON.stringify(model.snapshot())));
    feed(model, 9, 15);
    feed(restored, 9, 15);
    model.advanceTo(START_MS + 15 * HOUR_MS);
    restored.advanceTo(START_MS + 15 * HOUR_MS);
    for (const one of sizes) expect(restored.forecast(one.id)).toEqual(model.forecast(one.id));
    expect(JSON.stringify(restored.snapshot())).toBe(JSON.stringify(model.snapshot()));
  });

  it('refuses a snapshot that it cannot read: whoever opens the farm builds it anew, and says so', () => {
    for (const snapshot of [{ version: 999, memory: {} }, 'rust', 7, { version: 5, memory: { trays: 3 } }])
      expect(() => createFarmModel(farm, snapshot)).toThrow(RangeError);
  });
});
