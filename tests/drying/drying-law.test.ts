import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { newBelief } from '../../src/drying/filter/belief.js';
import { knee, LINK, LINK_COUNT, LOCAL, TRAY_WIDTH } from '../../src/drying/filter/layout.js';
import { type Drive, processStep } from '../../src/drying/filter/process-step.js';
import { SharedState } from '../../src/drying/filter/shared-state.js';

/** A tray's belief with every shared component at its prior but the knee. */
function beliefAt(water: number, kneeIndex: number) {
  const shared = new SharedState();
  const links = new Int32Array(LINK_COUNT);
  for (let k = 0; k < LINK_COUNT; k++)
    links[k] = shared.ensure({ ...knee, name: `link ${k}`, priorMean: k === LINK.knee ? kneeIndex : 0 });
  const belief = newBelief(TRAY_WIDTH, links, shared);
  belief.mean[LOCAL.water] = water;
  belief.mean[LOCAL.capacity] = 0.62;
  belief.mean[LOCAL.refill] = 0.36;
  return belief;
}

/** Hours, in steps of `stepH`, until the filter's tray is at its refill point; a straight line within the last step. */
function hoursToRefill(kneeIndex: number, perH: number, stepH: number): number {
  const belief = beliefAt(0.62, kneeIndex);
  const drive: Drive = {
    airPerH: 0.4 * perH,
    sunPerH: 0.6 * perH,
    sunLean: 0,
    logSide: 0,
    covered: false,
    unrest: 1,
  };
  for (let atH = 0; atH < 2000; atH += stepH) {
    const before = belief.mean[LOCAL.water] ?? 0;
    const dried = processStep(belief, LINK_COUNT, drive, [], stepH);
    if (before - dried <= 0.36) return atH + (stepH * (before - 0.36)) / dried;
  }
  return Number.POSITIVE_INFINITY;
}

describe('the drying law in the filter', () => {
  it('halving the step changes the hours to refill by less than 0.1 %', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -0.5, max: 0.8, noNaN: true }),
        fc.double({ min: 0.002, max: 0.03, noNaN: true }),
        fc.constantFrom(1, 0.5, 1 / 6),
        (kneeIndex, perH, stepH) => {
          const hours = hoursToRefill(kneeIndex, perH, stepH);
          const halved = hoursToRefill(kneeIndex, perH, stepH / 2);
          expect(Math.abs(halved - hours) / hours).toBeLessThan(0.001);
        },
      ),
    );
  });
});
