import { describe, expect, it } from 'vitest';
import { farmConfigSchema } from '../../shared/config/farm.js';
import { modelSpec } from '../../src/cli/house/farm-parts.js';
import { createFarmModel } from '../../src/drying/create-farm-model.js';
import { ModelKeeper } from '../../src/monitor/model-keeper.js';
import { startEvents } from '../../src/monitor/start-events.js';

const START_MS = Date.parse('2026-04-18T04:00:00Z');
const MIN_MS = 60_000;

const config = farmConfigSchema.parse({
  farm: 'alder-row',
  benches: [{ id: 'south' }],
  trays: [{ id: 't1', bench: 'south', blockSideMm: 19, blockCount: 280 }],
  probes: [{ id: 'temp', kind: 'air-temperature', bench: 'south' }],
});

/** A keeper that has seen six hours of a warm bench, and whatever `tell` told it in between. */
function keeperAfter(hours: number, tell: (keeper: ModelKeeper, hour: number) => void): ModelKeeper {
  const spec = modelSpec(config);
  const keeper = new ModelKeeper(createFarmModel(spec), START_MS, (state) => createFarmModel(spec, state));
  for (const event of startEvents(config, START_MS)) keeper.trayEvent(event, START_MS);
  for (let minute = 0; minute <= hours * 60; minute += 10) {
    const atMs = START_MS + minute * MIN_MS;
    keeper.observe('temp', atMs, 22 + Math.sin(minute / 200), 1);
    keeper.advanceTo(atMs);
    if (minute % 60 === 0) tell(keeper, minute / 60);
  }
  return keeper;
}

const pouredMs = START_MS + 3 * 60 * MIN_MS;
const poured = { at: new Date(pouredMs).toISOString(), tray: 't1', event: 'watered' } as const;

describe('ModelKeeper', () => {
  it('an undone watering leaves no trace in the forecast', () => {
    const never = keeperAfter(6, () => undefined);
    const told = keeperAfter(6, (keeper, hour) => {
      if (hour === 3) keeper.watering('t1', pouredMs, undefined);
    });
    expect(told.forecast('t1').meanBlockHours).not.toEqual(never.forecast('t1').meanBlockHours);
    expect(told.strikeOut(poured)).toBe(true);
    expect(told.forecast('t1').meanBlockHours).toEqual(never.forecast('t1').meanBlockHours);
    expect(told.forecast('t1').waterContentM3PerM3).toBe(never.forecast('t1').waterContentM3PerM3);
  });

  it.each([
    { event: 'ready-for-water' },
    { event: 'looked', level: 2 },
    { event: 'weighed', grams: 2400 },
  ] as const)('a late $event is of the tray as it was then, watered since or not', (told) => {
    const event = { ...told, at: new Date(pouredMs - MIN_MS).toISOString(), tray: 't1' };
    const keeper = (toldHour: number) =>
      keeperAfter(6, (each, hour) => {
        if (hour === toldHour) each.trayEvent(event, pouredMs - MIN_MS);
        if (hour === 3) each.watering('t1', pouredMs, undefined);
      });
    const inTime = keeper(3).forecast('t1');
    const late = keeper(5).forecast('t1');
    expect(late.waterContentM3PerM3).toBeCloseTo(inTime.waterContentM3PerM3, 2);
    expect(late.refillPointM3PerM3).toBeCloseTo(inTime.refillPointM3PerM3, 2);
    const never = keeper(99).forecast('t1');
    expect(late.refillPointM3PerM3).not.toBe(never.refillPointM3PerM3);
  });

  it('a watering carried as perhaps leaves no trace once somebody says that it was none', () => {
    const never = keeperAfter(6, () => undefined).forecast('t1');
    const carried = keeperAfter(6, (each, hour) => {
      if (hour === 3) each.perhapsWatered('t1', pouredMs, 0.6);
    });
    expect(carried.forecast('t1').meanBlockHours).not.toEqual(never.meanBlockHours);
    expect(carried.notWatered('t1', pouredMs)).toBe(true);
    expect(carried.forecast('t1').meanBlockHours).toEqual(never.meanBlockHours);
  });

  it('forgets a look that is older than what it remembers', () => {
    const look = {
      event: 'looked',
      level: 1,
      at: new Date(START_MS + MIN_MS).toISOString(),
      tray: 't1',
    } as const;
    const never = keeperAfter(30, () => undefined).forecast('t1');
    const late = keeperAfter(30, (each, hour) => {
      if (hour === 30) each.trayEvent(look, START_MS + MIN_MS);
    });
    expect(late.forecast('t1').waterContentM3PerM3).toBe(never.waterContentM3PerM3);
  });

  it('says so when the event lies before what it remembers, and changes nothing', () => {
    const keeper = keeperAfter(30, (each, hour) => {
      if (hour === 1) each.watering('t1', START_MS + 60 * MIN_MS, 300);
    });
    const before = keeper.forecast('t1').waterContentM3PerM3;
    const old = { ...poured, at: new Date(START_MS + 60 * MIN_MS).toISOString() };
    expect(keeper.strikeOut(old)).toBe(false);
    expect(keeper.forecast('t1').waterContentM3PerM3).toBe(before);
  });
});
