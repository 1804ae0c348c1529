import { describe, expect, it } from 'vitest';
import type { FarmModel } from '../../src/drying/farm-model.js';
import { DAY_MS, HOUR_MS, modelOf, play, START_MS, trayOf, voltsOf } from './model-farm.js';

const DAYS = 6;
const POURED_H = 14;
const WALKED_H = [8, 20, 23];

/**
 * A tray that is filled every evening and told so, and whose witness reads too dry by `off` from the third day on; then it is walked
 * past at three other hours of the day without water, by somebody who looks with chance `seen`.
 */
function watered({ off, seen }: { off: number; seen: number | undefined }): {
  model: FarmModel;
  water: number;
} {
  const model = modelOf([trayOf('t1')]);
  let water = 0.6;
  for (let fromH = 0; fromH < DAYS * 24 - 4; fromH++) {
    const hour = fromH % 24;
    if (hour === POURED_H) model.recordWatering('t1', START_MS + fromH * HOUR_MS, undefined);
    play(model, {
      hours: 1,
      fromH,
      startWater: hour === POURED_H ? 0.61 : water,
      reading: (content) => voltsOf(Math.max(0.02, content - (fromH < 48 ? 0 : off))),
      atHour: (_, left) => {
        water = left;
      },
    });
    if (seen !== undefined && fromH >= 48 && WALKED_H.includes(hour))
      model.recordPassedBy('t1', START_MS + (fromH + 1) * HOUR_MS, seen);
  }
  return { model, water };
}
const heldFor = (how: { off: number; seen: number | undefined }): number => {
  const { model, water } = watered(how);
  return model.forecast('t1').waterContentM3PerM3 - water;
};

describe('a tray whose witness reads far too dry', () => {
  it('is held for drier than it is where nobody walks by, and for less so the more surely somebody did', () => {
    const [unseen = 0, hardly = 0, surely = 0] = [undefined, 0.2, 0.97].map((seen) =>
      heldFor({ off: 0.27, seen }),
    );
    expect(unseen).toBeLessThan(-0.12);
    expect(hardly).toBeLessThan(surely);
    expect(surely).toBeGreaterThan(unseen + 0.05);
  });
});

describe('a tray that is far from dry, by a witness that is right', () => {
  it('is believed as before by who is passed by', () => {
    expect(heldFor({ off: 0, seen: 0.97 })).toBeCloseTo(heldFor({ off: 0, seen: undefined }), 2);
  });
});

describe('recordPassedBy()', () => {
  it('takes any chance, also on a tray without a probe, and leaves a finite forecast', () => {
    const model = modelOf([trayOf('t1'), trayOf('t2')]);
    play(model, { hours: 24 });
    for (const seen of [-1, 0, 0.5, 1, 2])
      for (const id of ['t1', 't2']) model.recordPassedBy(id, START_MS + DAY_MS, seen);
    for (const id of ['t1', 't2']) expect(model.forecast(id).waterContentM3PerM3).toBeGreaterThan(0.1);
    expect(() => model.recordPassedBy('t9', START_MS + DAY_MS, 1)).toThrow(RangeError);
  });
});
