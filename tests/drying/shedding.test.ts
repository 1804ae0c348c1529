import { describe, expect, it } from 'vitest';
import { HOUR_MS, modelOf, play, START_MS, trayOf } from './model-farm.js';

const mini = trayOf('t1', { blockSideMm: 19, blockCount: 280 });

const DRY_H = 60;

/** Believed and true water content five hours after a pour that was told as a filling and closed this share of the deficit. */
function afterToldFilling(share: number): { dry: number; believed: number; shown: number } {
  const model = modelOf([mini]);
  let shown = 0;
  const atHour = (_: number, water: number): void => {
    shown = water;
  };
  play(model, { hours: DRY_H, atHour });
  const dry = shown;
  model.recordWatering('t1', START_MS + DRY_H * HOUR_MS, undefined);
  play(model, { hours: 5, fromH: DRY_H, startWater: dry, pours: [{ atH: DRY_H + 0.1, share }], atHour });
  return { dry, believed: model.forecast('t1').waterContentM3PerM3, shown };
}

describe('a tray that had gone dry', () => {
  it('is believed to have shed its water when its probe shows little of it, whatever was told', () => {
    const { dry, believed, shown } = afterToldFilling(0.3);
    expect(dry).toBeLessThan(0.2);
    expect(Math.abs(believed - shown)).toBeLessThan(0.07);
  });

  it('is believed to be full when its probe shows that', () => {
    const { believed, shown } = afterToldFilling(1);
    expect(Math.abs(believed - shown)).toBeLessThan(0.05);
  });
});
