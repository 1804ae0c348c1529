import { describe, expect, it } from 'vitest';
import type { AskedPour } from '../../src/drying/model/farm-model.js';
import { farmOf, HOUR_MS, middleH, modelOf, START_MS, trayOf } from './model-farm.js';

const POURS = 8;
const EVERY_H = 24;

/** Hours that a tray without a probe is given from full, after days of pours told while it is held for moist; each asked for or not. */
function hoursFromFull(asked: (pour: number) => AskedPour | undefined): number {
  const model = modelOf([trayOf('t1', { blockSideMm: 51, blockCount: 48 })], farmOf({ probes: [] }));
  for (let pour = 0; pour < POURS; pour++)
    model.recordWatering('t1', START_MS + pour * EVERY_H * HOUR_MS, undefined, asked(pour));
  return middleH(model, 't1');
}

describe('a pour told of a tray that is held for moist', () => {
  const unasked = hoursFromFull(() => undefined);
  const asked = hoursFromFull(() => ({}));

  it('says that the tray dries faster where the grower chose its time', () => {
    expect(unasked).toBeLessThan(0.95 * asked);
  });

  it('says little of it where the house had asked', () => {
    const filledOnce = modelOf([trayOf('t1', { blockSideMm: 51, blockCount: 48 })], farmOf({ probes: [] }));
    filledOnce.recordWatering('t1', START_MS, undefined, {});
    expect(Math.abs(asked / middleH(filledOnce, 't1') - 1)).toBeLessThan(0.15);
  });

  it('says more of it at the asks of a farm that often waters unasked', () => {
    const ownMinded = hoursFromFull((pour) => (pour % 2 === 0 ? undefined : {}));
    expect(ownMinded).toBeLessThan(asked);
  });
});
