import { describe, expect, it } from 'vitest';
import { HOUR_MS, modelOf, play, START_MS, trayOf } from './model-farm.js';

const FAR_BELOW_M3PERM3 = 0.3;
const EVERY_H = 36;
const POURS = 9;
/** After so many pours its grower's habit has told what the tray holds. */
const LEARNED_AFTER = 5;

/** How far below the truth a tray is believed, m³/m³, mean of the hours after some pours, each told as a filling. */
function beliefBelowTruth(witnessBelow: number): number {
  const model = modelOf([trayOf('t1')]);
  const below: number[] = [];
  let water = 0.6;
  for (let pour = 0; pour <= POURS; pour++) {
    play(model, {
      hours: EVERY_H,
      fromH: pour * EVERY_H,
      startWater: water,
      cadenceMin: 15,
      pours: pour === 0 ? [] : [{ atH: pour * EVERY_H + 0.3, share: 1 }],
      reading: (content) => 2.6 - 2 * Math.max(0.05, content - witnessBelow),
      atHour: (_, content) => {
        water = content;
        if (pour > LEARNED_AFTER) below.push(content - model.meanWater('t1'));
      },
    });
    model.recordWatering('t1', START_MS + (pour + 1) * EVERY_H * HOUR_MS, undefined);
  }
  return below.reduce((sum, one) => sum + one, 0) / below.length;
}

describe('a tray that is watered as it comes to its refill point', () => {
  it('is not believed dry for days because its witness stands far below it', () => {
    expect(beliefBelowTruth(FAR_BELOW_M3PERM3)).toBeLessThan(0.06);
  });

  it('is believed where its witness is', () => {
    expect(Math.abs(beliefBelowTruth(0))).toBeLessThan(0.04);
  });
});
