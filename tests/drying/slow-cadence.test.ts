import { describe, expect, it } from 'vitest';
import type { FarmModel, ProbeSpec } from '../../src/drying/model/farm-model.js';
import {
  detected,
  farmOf,
  HOUR_MS,
  middleH,
  modelOf,
  moisture,
  type PlayedPour,
  play,
  START_MS,
  trayOf,
  voltsOf,
} from './model-farm.js';

const HOURS = 300;
const LEARNING_H = 72;
const REFILL = 0.35;
/** Hours in which a 38 mm block wicks and the detector waits for the rise to end. */
const WICKING_H = 2.7;
/** Nobody tells of these; two are partial. */
const pours: readonly PlayedPour[] = [
  { atH: 31.4, share: 1 },
  { atH: 62.9, share: 1 },
  { atH: 98.2, share: 0.7 },
  { atH: 121.1, share: 1 },
  { atH: 157.6, share: 1 },
  { atH: 190.3, share: 1 },
  { atH: 226.8, share: 0.6 },
  { atH: 251.5, share: 1 },
];
const raw: ProbeSpec = { id: 'raw-t1', kind: 'block-moisture', trayId: 't1' };
const bare = farmOf().probes.filter((probe) => probe !== moisture);

/** Plays the pours at a cadence: pours found, h after the start, and p50 minus truth at full hours, h. */
function playAt(model: FarmModel, cadenceH: number, probeId: string) {
  const water = new Map<number, number>();
  const foretold: { readonly atH: number; readonly p50H: number }[] = [];
  const events = play(model, {
    hours: HOURS,
    cadenceMin: cadenceH * 60,
    pours,
    probeId,
    atHour: (atMs, content) => {
      const atH = (atMs - START_MS) / HOUR_MS;
      water.set(atH, content);
      foretold.push({ atH, p50H: middleH(model, 't1') });
    },
  });
  const found = detected(events).map(({ atMs, noticedAtMs }) => ({
    atH: (atMs - START_MS) / HOUR_MS,
    toldAtH: (noticedAtMs - START_MS) / HOUR_MS,
  }));
  const misses = foretold.flatMap(({ atH, p50H }) => {
    const untilH = pours.find((pour) => pour.atH > atH)?.atH ?? Number.POSITIVE_INFINITY;
    const crossedAtH = [...water].find(([at, content]) => at > atH && content <= REFILL)?.[0];
    const settling = pours.some((pour) => atH >= pour.atH && atH < pour.atH + 2 * cadenceH + WICKING_H);
    const isDry = (water.get(atH) ?? 0) <= REFILL + 0.01;
    return atH < LEARNING_H || settling || isDry || crossedAtH === undefined || crossedAtH > untilH
      ? []
      : [p50H - (crossedAtH - atH)];
  });
  return { found, misses };
}

function middle(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[values.length >> 1] ?? Number.NaN;
}

const witnesses = [
  { name: 'calibrated', probe: moisture, cadencesH: [1, 2, 3, 4], middleMostH: 3, mostH: 5 },
  { name: 'raw', probe: raw, cadencesH: [1, 2, 3], middleMostH: 18, mostH: 30 },
] as const;

describe.each(witnesses)('a $name probe that is read seldom, nobody tells of waterings', (witness) => {
  it.each(witness.cadencesH)(
    'every %i h: each pour is found once, a reading after it shows at the latest',
    (cadenceH) => {
      const model = modelOf([trayOf('t1')], farmOf({ probes: [...bare, witness.probe] }));
      const { found, misses } = playAt(model, cadenceH, witness.probe.id);
      expect(found.length).toBe(pours.length);
      found.forEach(({ atH, toldAtH }, i) => {
        const pouredAtH = pours[i]?.atH ?? 0;
        const shownAtH = cadenceH * Math.ceil(pouredAtH / cadenceH);
        expect(atH).toBeGreaterThan(pouredAtH - 0.5);
        expect(atH).toBeLessThanOrEqual(shownAtH);
        expect(toldAtH).toBeLessThan(Math.max(shownAtH + cadenceH, shownAtH + WICKING_H) + 0.5);
      });
      expect(misses.length).toBeGreaterThan(5);
      expect(Math.abs(middle(misses))).toBeLessThan(witness.middleMostH);
      expect(Math.max(...misses.map(Math.abs))).toBeLessThan(witness.mostH);
    },
  );
});

describe.each([1, 3])('readings every %i h', (cadenceH) => {
  it('drying and noise alone are never taken for a watering', () => {
    const model = modelOf([trayOf('t1')]);
    const events = play(model, { hours: 48, cadenceMin: cadenceH * 60, noiseSd: 0.008 });
    expect(detected(events)).toEqual([]);
  });

  it('a probe that stuck while its tray dried is not held against the tray when it comes back', () => {
    const model = modelOf([trayOf('t1')]);
    const cadenceMin = cadenceH * 60;
    play(model, { hours: 12, cadenceMin, startWater: 0.6 });
    for (let atH = 12 + cadenceH; atH < 60; atH += cadenceH)
      model.observe('moist-t1', START_MS + atH * HOUR_MS, voltsOf(0.55), 1);
    const misses: number[] = [];
    play(model, {
      fromH: 60,
      hours: 30,
      cadenceMin,
      startWater: 0.28,
      atHour: (atMs, content) => {
        if (atMs >= START_MS + 78 * HOUR_MS) misses.push(model.forecast('t1').waterContentM3PerM3 - content);
      },
    });
    expect(misses.length).toBeGreaterThan(3);
    for (const miss of misses) expect(Math.abs(miss)).toBeLessThan(0.1);
  });
});
