import { describe, expect, it } from 'vitest';
import { hoursQuantiles } from '../../src/drying/model/tray-forecast.js';
import { farmOf, HOUR_MS, modelOf, START_MS, trayOf } from './model-farm.js';

describe('a measured pour after a look', () => {
  const ways = [1, 2, 3].flatMap((level) =>
    [10, 60].flatMap((ml) => [true, false].map((calibrated) => ({ level, ml, calibrated }) as const)),
  );
  it.each(ways)('level $level, $ml mL, levels configured $calibrated: adds what it adds', (way) => {
    for (const isWatched of [true, false])
      for (const isFilledBefore of [true, false]) {
        const levels = way.calibrated
          ? {}
          : { containerCapacityM3PerM3: undefined, refillPointM3PerM3: undefined };
        const model = modelOf([trayOf('t1', levels)], farmOf({ probes: farmOf().probes.slice(0, 2) }));
        if (isWatched) model.observe('temp-south', START_MS, 20, 1);
        if (isFilledBefore) model.recordWatering('t1', START_MS - 30 * HOUR_MS, undefined);
        model.advanceTo(START_MS + HOUR_MS);
        model.recordLook('t1', way.level as 1 | 2 | 3, START_MS + HOUR_MS);
        const looked = model.forecast('t1').waterContentM3PerM3;
        model.recordWatering('t1', START_MS + HOUR_MS, way.ml);
        const addedMl = (model.forecast('t1').waterContentM3PerM3 - looked) * 72 * 38 ** 3 * 1e-3;
        expect(addedMl).toBeGreaterThan(0);
        expect(addedMl).toBeLessThan(way.ml + 15);
      }
  });
});

describe('a tray told watered whose notice had asked for less than a filling', () => {
  /** A tray without a probe, seen dry, then told watered: driest and wettest of what is believed, hours to the refill point. */
  function hoursAfter(askedMl: number | undefined): {
    readonly p10: number | null;
    readonly p90: number | null;
  } {
    const model = modelOf([trayOf('t1')], farmOf({ probes: farmOf().probes.slice(0, 2) }));
    model.observe('temp-south', START_MS, 20, 1);
    model.advanceTo(START_MS + HOUR_MS);
    model.recordLook('t1', 2, START_MS + HOUR_MS);
    model.recordWatering('t1', START_MS + 1.1 * HOUR_MS, undefined, askedMl);
    model.advanceTo(START_MS + 3 * HOUR_MS);
    return hoursQuantiles(model.forecast('t1').meanBlockHours);
  }

  it('was given that or was filled: the early end knows the one, the late end the other', () => {
    const filled = hoursAfter(undefined);
    const asked = hoursAfter(300);
    expect(asked.p10).toBeLessThan((filled.p10 ?? Number.NaN) / 2);
    expect(asked.p90 ?? Number.POSITIVE_INFINITY).toBeGreaterThan(0.8 * (filled.p90 ?? Number.NaN));
  });
});
