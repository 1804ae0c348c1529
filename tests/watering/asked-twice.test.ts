import { expect, it } from 'vitest';
import { outlookOf } from '../../src/watering/conditions/round-outlook.js';
import { wetCondition } from '../../src/watering/conditions/tray-conditions.js';
import { waterConditions } from '../../src/watering/conditions/water-conditions.js';
import type { Desk } from '../../src/watering/desk/desk.js';
import { restoreState, takeSnapshot } from '../../src/watering/desk/desk-state.js';
import { createSpeech } from '../../src/watering/sentences/speech.js';
import { deskOf, minis } from './desk-of.js';
import { farm, forecast, HOUR, MIDNIGHT, view } from './helpers.js';

it('asking what a tray comes to changes nothing: asked twice it is the same, and so is the desk', () => {
  const house = deskOf(minis('t1'));
  for (let hour = 0; hour < 6; hour++) {
    const nowMs = MIDNIGHT + hour * HOUR;
    house.decide(view(nowMs, [forecast('t1', nowMs, 4 - hour / 2, { waterContent: 0.45 - hour / 100 })]));
  }
  const options = farm();
  const words = createSpeech({ timeZone: options.timeZone, units: options.units }).words;
  const desk: Desk = { options, words, state: restoreState(house.snapshot()) };
  const [tray] = desk.state.history.now.trays.values();
  if (tray === undefined) throw new Error('t1 stands');
  const before = JSON.stringify(takeSnapshot(desk.state));
  const nowMs = MIDNIGHT + 6 * HOUR;
  const one = forecast('t1', nowMs, 0.5, { waterContent: 0.37 });
  const ask = () => [
    waterConditions(desk, tray, one, outlookOf(desk, view(nowMs, [one])), 0),
    wetCondition(desk, tray, nowMs),
  ];
  expect(ask()).toEqual(ask());
  expect(JSON.stringify(takeSnapshot(desk.state))).toBe(before);
});
