import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Cover } from '../../shared/config/trays.js';
import type { Flag } from '../../shared/facts/reading.js';
import type { FarmModel, ProbeSpec } from '../../src/drying/model/farm-model.js';
import { createFarmModel } from '../../src/drying/whole/create-farm-model.js';
import { farmOf, HOUR_MS, middleH, modelOf, moisture, START_MS, trayOf } from './model-farm.js';

const probes: readonly ProbeSpec[] = [
  ...farmOf().probes,
  { id: 'light-south', kind: 'light', benchId: 'south', unit: 'lx' },
  { id: 'scale', kind: 'tray-weight', trayId: 't2' },
  { id: 'raw', kind: 'block-moisture', trayId: 't3' },
];
const trays = [
  trayOf('t1'),
  trayOf('t2', { blockSideMm: 19, blockCount: 280 }),
  trayOf('t3', { blockSideMm: 51, blockCount: 48 }),
];
const trayId = fc.constantFrom('t1', 't2', 't3');
const probeId = fc.constantFrom(...probes.map((probe) => probe.id));

type Happening = (model: FarmModel, atMs: number) => void;

const happening: fc.Arbitrary<Happening> = fc.oneof(
  {
    weight: 12,
    arbitrary: fc
      .tuple(
        probeId,
        fc.oneof(fc.double({ min: -50, max: 3000, noNaN: true }), fc.double()),
        fc.constantFrom<Flag>(1, 2, 3, 4, 9),
      )
      .map(
        ([id, value, flag]): Happening =>
          (model, atMs) =>
            model.observe(id, atMs, value, flag),
      ),
  },
  {
    weight: 8,
    arbitrary: fc
      .tuple(fc.constantFrom('moist-t1', 'raw'), fc.double({ min: 0.9, max: 2.8, noNaN: true }))
      .map(
        ([id, value]): Happening =>
          (model, atMs) =>
            model.observe(id, atMs, value, 1),
      ),
  },
  fc.tuple(trayId, fc.option(fc.double({ min: 0, max: 5000, noNaN: true }), { nil: undefined })).map(
    ([id, ml]): Happening =>
      (model, atMs) =>
        model.recordWatering(id, atMs, ml),
  ),
  fc.tuple(trayId, fc.double({ min: 0, max: 1, noNaN: true })).map(
    ([id, p]): Happening =>
      (model, atMs) =>
        model.recordPerhapsWatered(id, atMs, p),
  ),
  fc.tuple(trayId, fc.constantFrom(1 as const, 3 as const, 5 as const)).map(
    ([id, level]): Happening =>
      (model, atMs) =>
        model.recordLook(id, level, atMs),
  ),
  fc.tuple(trayId, fc.double({ min: 1, max: 20_000, noNaN: true })).map(
    ([id, grams]): Happening =>
      (model, atMs) =>
        model.recordWeight(id, grams, atMs),
  ),
  trayId.map(
    (id): Happening =>
      (model, atMs) =>
        model.recordReady(id, atMs),
  ),
  fc.tuple(trayId, fc.constantFrom<Cover>('none', 'film', 'loose-dome', 'tight-dome')).map(
    ([id, cover]): Happening =>
      (model, atMs) =>
        model.setCover(id, cover, atMs),
  ),
  fc.tuple(trayId, fc.constantFrom('south', 'north')).map(
    ([id, bench]): Happening =>
      (model, atMs) =>
        model.moveTray(id, bench, atMs),
  ),
  fc.tuple(fc.constantFrom('moist-t1', 'scale', 'raw'), trayId).map(
    ([id, tray]): Happening =>
      (model, atMs) =>
        model.attachProbe(id, tray, atMs),
  ),
);

const life = fc.array(fc.tuple(happening, fc.double({ min: 0, max: 3, noNaN: true })), {
  minLength: 5,
  maxLength: 60,
});

function live(model: FarmModel, events: readonly (readonly [Happening, number])[]): number {
  let atMs = START_MS;
  for (const [act, hours] of events) {
    atMs += Math.round(hours * HOUR_MS);
    act(model, atMs);
  }
  return atMs + HOUR_MS;
}

describe('whatever happens', () => {
  it('forecasts are sorted hours from 0 on, at least 200, and no number is missing', () => {
    fc.assert(
      fc.property(life, (events) => {
        const model = modelOf(trays, farmOf({ probes }));
        const endMs = live(model, events);
        for (const event of model.advanceTo(endMs))
          if (event.kind === 'watering-detected') {
            expect(event.takenUpMl).toBeGreaterThanOrEqual(0);
            expect(event.atMs).toBeLessThanOrEqual(event.noticedAtMs);
          }
        for (const { id } of trays) {
          const forecast = model.forecast(id);
          expect(forecast.waterContentM3PerM3).toBeGreaterThanOrEqual(0);
          expect(forecast.waterContentM3PerM3).toBeLessThanOrEqual(1);
          expect(forecast.waterContentSdM3PerM3).toBeGreaterThan(0);
          for (const hours of [forecast.meanBlockHours, forecast.driestTenthHours]) {
            expect(hours.length).toBeGreaterThanOrEqual(200);
            hours.forEach((value, i) => {
              expect(value).toBeGreaterThanOrEqual(i === 0 ? 0 : (hours[i - 1] ?? 0));
            });
          }
          forecast.meanBlockHours.forEach((value, i) => {
            expect(forecast.driestTenthHours[i]).toBeLessThanOrEqual(value);
          });
          for (const line of model.explain(id).lines) expect(Number.isFinite(line.value)).toBe(true);
        }
      }),
      { numRuns: 40 },
    );
  });

  it('a restart in the middle changes nothing', () => {
    fc.assert(
      fc.property(life, life, (before, after) => {
        const spec = farmOf({ probes });
        const model = modelOf(trays, spec);
        const middleMs = live(model, before);
        model.advanceTo(middleMs);
        const restored = createFarmModel(spec, JSON.parse(JSON.stringify(model.snapshot())));
        for (const one of [model, restored]) {
          let atMs = middleMs;
          for (const [act, hours] of after) {
            atMs += Math.round(hours * HOUR_MS);
            act(one, atMs);
          }
          one.advanceTo(atMs + HOUR_MS);
        }
        for (const { id } of trays) expect(restored.forecast(id)).toEqual(model.forecast(id));
      }),
      { numRuns: 15 },
    );
  });
});

describe('signs and sizes', () => {
  const outlook = (vpdKPa: number, solarWPerM2: number) => () => ({ temperatureC: 20, vpdKPa, solarWPerM2 });
  const hoursUnder = (vpdKPa: number, solarWPerM2: number, change = {}): number => {
    const model = modelOf([trayOf('t9', change)], farmOf({ outlook: outlook(vpdKPa, solarWPerM2) }));
    model.recordWatering('t9', START_MS, undefined);
    model.advanceTo(START_MS);
    return middleH(model, 't9');
  };

  it('drier air and more sun shorten, larger blocks and covers lengthen', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 2, noNaN: true }),
        fc.double({ min: 50, max: 300, noNaN: true }),
        (vpd, sun) => {
          const base = hoursUnder(vpd, sun);
          expect(hoursUnder(vpd * 1.3, sun)).toBeLessThan(base);
          expect(hoursUnder(vpd, sun * 1.4)).toBeLessThan(base);
          expect(hoursUnder(vpd, sun, { blockSideMm: 51, blockCount: 48 })).toBeGreaterThan(base);
          expect(hoursUnder(vpd, sun, { blockSideMm: 19, blockCount: 280 })).toBeLessThan(base);
          expect(hoursUnder(vpd, sun, { cover: 'film' })).toBeGreaterThan(base);
        },
      ),
      { numRuns: 10 },
    );
  });

  it('growing seedlings use more', () => {
    const young = hoursUnder(1, 150, { germinatedAtMs: START_MS });
    const grown = hoursUnder(1, 150, { germinatedAtMs: START_MS - 35 * 24 * HOUR_MS });
    expect(grown).toBeLessThan(0.75 * young);
  });

  it('the same seed gives the same members, another seed nearly the same quantiles', () => {
    const of = (seed: number): FarmModel => {
      const model = modelOf([trayOf('t1')], farmOf({ seed, probes: [moisture] }));
      model.recordWatering('t1', START_MS, undefined);
      model.advanceTo(START_MS);
      return model;
    };
    expect(of(3).forecast('t1')).toEqual(of(3).forecast('t1'));
    expect(Math.abs(middleH(of(3), 't1') / middleH(of(4), 't1') - 1)).toBeLessThan(0.15);
  });
});
