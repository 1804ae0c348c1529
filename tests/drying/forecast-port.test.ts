import { describe, expect, it } from 'vitest';
import { broughtForward, fallAfter, hoursQuantile } from '../../src/drying/model/tray-forecast.js';
import { createFarmModel } from '../../src/drying/whole/create-farm-model.js';
import { farmOf, play, START_MS, trayOf } from './model-farm.js';

function afterTwoDays(cover: 'none' | 'tight-dome') {
  const model = createFarmModel(farmOf());
  model.addTray(trayOf('t1', { cover: 'none' }), START_MS);
  model.addTray(trayOf('t2', { cover }), START_MS);
  play(model, { hours: 48, pours: [{ atH: 30, share: 1 }] });
  return { model, of: (id: string) => model.forecast(id) };
}

describe('what the desk is told of a tray', () => {
  it('falls to the refill point when half of the members are there', () => {
    const one = afterTwoDays('none').of('t1');
    const medianH = hoursQuantile(one.meanBlockHours, 0.5) ?? Number.NaN;
    const toFall = one.waterContentM3PerM3 - one.refillPointM3PerM3;
    expect(fallAfter(one, 0)).toBe(0);
    expect(fallAfter(one, medianH) / toFall).toBeGreaterThan(0.85);
    expect(fallAfter(one, medianH) / toFall).toBeLessThan(1.15);
    expect(one.fallByHour.every((fall, hour) => fall >= (one.fallByHour[hour - 1] ?? 0))).toBe(true);
  });

  it('says how a covered tray would dry without its cover: like its neighbour that never had one', () => {
    const { of } = afterTwoDays('tight-dome');
    const [covered, bare] = [of('t2'), of('t1')];
    const middle = (hours: Float64Array): number => hoursQuantile(hours, 0.5) ?? Number.POSITIVE_INFINITY;
    expect(bare.ifUncovered).toBeUndefined();
    const uncovered = covered.ifUncovered;
    if (uncovered === undefined) throw new Error('a covered tray tells of itself without its cover');
    expect(middle(uncovered.meanBlockHours)).toBeLessThan(middle(covered.meanBlockHours) / 2);
    const spanLeft = (of: typeof bare): number => of.waterContentM3PerM3 - of.refillPointM3PerM3;
    const perH = (hours: number, of: typeof bare): number => spanLeft(of) / hours;
    const ratio = perH(middle(uncovered.meanBlockHours), covered) / perH(middle(bare.meanBlockHours), bare);
    expect(ratio).toBeGreaterThan(0.6);
    expect(ratio).toBeLessThan(1.7);
  });

  it('brought forward by three hours is as if asked three hours later, were all to go as foretold', () => {
    const { of } = afterTwoDays('tight-dome');
    const one = of('t2');
    const later = broughtForward(one, 3);
    expect(fallAfter(later, 5)).toBeCloseTo(fallAfter(one, 8) - fallAfter(one, 3), 4);
    expect(later.meanBlockHours[100]).toBeCloseTo(Math.max(0, (one.meanBlockHours[100] ?? 0) - 3), 9);
    expect(later.ifUncovered?.driestTenthHours[100]).toBeCloseTo(
      Math.max(0, (one.ifUncovered?.driestTenthHours[100] ?? 0) - 3),
      9,
    );
  });
});
