import { describe, expect, it } from 'vitest';
import type { TraySpec } from '../../src/drying/model/farm-model.js';
import { DAY_MS, HOUR_MS, modelOf, START_MS, trayOf } from './model-farm.js';

/** A tray of which nobody said when it is full and when it is dry. */
function openTray(): TraySpec {
  const { containerCapacityM3PerM3: _full, refillPointM3PerM3: _dry, ...open } = trayOf('t1');
  return { ...open, containerCapacityM3PerM3: undefined, refillPointM3PerM3: undefined };
}

function filledDaily(days: number, look: (model: ReturnType<typeof modelOf>, atMs: number) => void) {
  const model = modelOf([openTray()]);
  for (let day = 0; day < days; day++) {
    const atMs = START_MS + day * DAY_MS;
    look(model, atMs);
    model.recordWatering('t1', atMs + HOUR_MS, undefined);
    model.advanceTo(atMs + 2 * HOUR_MS);
  }
  return model.forecast('t1');
}

describe('a tray whose full and dry level nobody configured', () => {
  it('keeps water between the two however often it looked dry', () => {
    const forecast = filledDaily(20, (model, atMs) => model.recordLook('t1', 1, atMs));
    const span = forecast.containerCapacityM3PerM3 - forecast.refillPointM3PerM3;
    expect(span).toBeGreaterThan(0.12);
    expect(forecast.waterContentM3PerM3 - forecast.refillPointM3PerM3).toBeGreaterThan(0.08);
  });

  it('lasts shorter by what is believed when it always looked dry than when it always looked moist', () => {
    const middle = (level: 1 | 3): number => {
      const { meanBlockHours } = filledDaily(12, (model, atMs) => model.recordLook('t1', level, atMs));
      return meanBlockHours[Math.floor(meanBlockHours.length / 2)] ?? Number.NaN;
    };
    expect(middle(1)).toBeLessThan(0.8 * middle(3));
  });

  it('takes its refill point to lie below where it is watered day by day', () => {
    const forecast = filledDaily(15, () => undefined);
    const prior = modelOf([openTray()]).forecast('t1');
    const fall = prior.containerCapacityM3PerM3 - prior.refillPointM3PerM3;
    expect(forecast.containerCapacityM3PerM3 - forecast.refillPointM3PerM3).toBeLessThan(1.4 * fall);
    expect(forecast.containerCapacityM3PerM3 - forecast.refillPointM3PerM3).toBeGreaterThan(0.15);
  });

  it('knows the other level better once one of the two is configured', () => {
    const open = modelOf([openTray()]).forecast('t1');
    const rich = modelOf([{ ...openTray(), containerCapacityM3PerM3: 0.75 }]).forecast('t1');
    expect(rich.refillPointM3PerM3).toBeGreaterThan(open.refillPointM3PerM3 + 0.02);
  });
});

describe('a tray that was just poured', () => {
  it('does not dry while it stands in water, and dries after', () => {
    const model = modelOf([trayOf('t1')]);
    model.recordWatering('t1', START_MS, undefined);
    const waterAfter = (hours: number): number => {
      model.advanceTo(START_MS + hours * HOUR_MS);
      return model.forecast('t1').waterContentM3PerM3;
    };
    const [now, soaked, later] = [waterAfter(0.17), waterAfter(0.5), waterAfter(8)];
    expect(Math.abs(soaked - now)).toBeLessThan(1e-4);
    expect(later).toBeLessThan(soaked - 0.01);
  });
});
