import { describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import { type TrayWhy, trayWhySchema } from '../../shared/page/page-why.js';
import { HistoryFarm, HOUR_MS } from './history-farm.js';

function whyOf(house: HistoryFarm, trayId: string, atMs = house.nowMs): TrayWhy | undefined {
  const steps = house.farm.pipeline.why(trayId, atMs);
  if (steps === undefined) return undefined;
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
}

function known(why: TrayWhy | undefined): TrayWhy {
  expect(why).toBeDefined();
  return trayWhySchema.parse(why);
}

/** A house that is told, 20 hours in, that t2 was watered, or is not; the readings are the same. */
function houseOf(isTold: boolean): HistoryFarm {
  const house = new HistoryFarm();
  house.read(20 * 60);
  if (isTold) expect(house.tell({ do: 'watered', tray: 't2', by: 'Anna' }, 'pour-1').ok).toBe(true);
  house.read(4 * 60);
  return house;
}

describe('why a forecast stands where it does', () => {
  const told = houseOf(true);
  const untold = houseOf(false);

  it('a pour without which the tray would stand as in a house that never heard of it', () => {
    const why = known(whyOf(told, 't2'));
    const without = known(whyOf(untold, 't2')).hours;
    const pour = why.evidence.find(({ kind }) => kind === 'pour');
    expect(pour).toMatchObject({ source: 'Anna', at: toInstant(told.nowMs - 4 * HOUR_MS) });
    expect(why.evidence[0]).toBe(pour);
    expect(Math.abs((pour?.without.p50 ?? 0) - (without.p50 ?? 0))).toBeLessThan(1);
    expect((why.hours.p50 ?? 0) - (pour?.without.p50 ?? 0)).toBeGreaterThan(2);
  });

  it('says nothing of a pour of another tray, nor of one that was refused', () => {
    expect(untold.tell({ do: 'watered', tray: 't9' }, 'pour-2').ok).toBe(false);
    expect(known(whyOf(untold, 't2')).evidence.filter(({ kind }) => kind === 'pour')).toEqual([]);
    expect(known(whyOf(told, 't1')).evidence.filter(({ kind }) => kind === 'pour')).toEqual([]);
    expect(known(whyOf(told, 't2')).evidence.filter(({ kind }) => kind === 'pour')).toHaveLength(1);
  });

  it('what moved it furthest comes first, and the probe in the blocks is counted with its readings', () => {
    const why = known(whyOf(told, 't1'));
    const moved = why.evidence.map(({ without }) => Math.abs((why.hours.p50 ?? 120) - (without.p50 ?? 120)));
    expect(moved).toEqual([...moved].sort((a, b) => b - a));
    const probe = why.evidence.find(({ kind }) => kind === 'probe');
    expect(probe).toMatchObject({ source: 'moist' });
    expect(probe?.count).toBeGreaterThan(100);
  });

  it('more sun and drier air are sooner, less sun and damper air later', () => {
    const { hours, supposed } = known(whyOf(told, 't2'));
    const p50 = (what: string): number => supposed.find((one) => one.what === what)?.hours.p50 ?? 120;
    expect(p50('sunny')).toBeLessThan(p50('dull'));
    expect(p50('dry-air')).toBeLessThan(p50('damp-air'));
    expect(p50('dry-air')).toBeLessThan(hours.p50 ?? 120);
    expect(p50('damp-air')).toBeGreaterThan(hours.p50 ?? 0);
  });

  it('asked for an instant of the last day it knows nothing of what came after', () => {
    const before = told.nowMs - 5 * HOUR_MS;
    expect(whyOf(told, 't2', before)).toEqual(whyOf(untold, 't2', before));
    expect(known(whyOf(told, 't2', before)).evidence.some(({ kind }) => kind === 'pour')).toBe(false);
    expect(whyOf(told, 't2', told.nowMs - 30 * HOUR_MS)).toBeUndefined();
    expect(whyOf(told, 't9')).toBeUndefined();
  });

  it('a cover is evidence, and taking it off is what would change the answer', () => {
    const house = new HistoryFarm();
    house.read(6 * 60);
    house.tell({ do: 'cover', tray: 't2', cover: 'tight-dome' }, 'dome');
    house.read(2 * 60);
    const why = known(whyOf(house, 't2'));
    const bare = why.supposed.find(({ what }) => what === 'cover');
    expect(bare?.hours.p50 ?? 120).toBeLessThan(why.hours.p50 ?? 120);
    expect(why.evidence.some(({ kind }) => kind === 'cover')).toBe(true);
  });

  it('asking changes nothing: the farm goes on as if nobody had asked', () => {
    const unasked = houseOf(true);
    for (const tray of ['t1', 't2']) whyOf(told, tray);
    expect(told.states()).toBe(unasked.states());
    expect(told.forecasts(6)).toBe(unasked.forecasts(6));
  });
});
