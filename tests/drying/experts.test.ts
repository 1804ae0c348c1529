import { describe, expect, it } from 'vitest';
import { joinHours } from '../../src/drying/experts/join-hours.js';
import type { FarmModel } from '../../src/drying/model/farm-model.js';
import { createFarmModel } from '../../src/drying/whole/create-farm-model.js';
import {
  DAY_MS,
  dayTemperatureC,
  farmOf,
  HOUR_MS,
  MINUTE_MS,
  middleH,
  modelOf,
  noiseSource,
  play,
  START_MS,
  trayOf,
  voltsOf,
} from './model-farm.js';

const REFILL = 0.35;
const FALL_TIME_H = 8;
const EVERY_H = 24;

/** Ground that drains fast and then hardly dries, by night as by day: nothing that the block model was made for. */
const drained = (sincePourH: number): number => 0.3 + 0.3 * Math.exp(-sincePourH / FALL_TIME_H);
const HOURS_TO_REFILL = FALL_TIME_H * Math.log(0.3 / (REFILL - 0.3));

function playStrangeGround(model: FarmModel, fromH: number, toH: number): void {
  const noise = noiseSource(5 + fromH);
  for (let minute = fromH * 60; minute <= toH * 60; minute += 10) {
    const atMs = START_MS + minute * MINUTE_MS;
    const water = drained((minute / 60) % EVERY_H) + 0.002 * noise();
    model.observe('moist-t1', atMs, voltsOf(water), 1);
    model.observe('temp-south', atMs, dayTemperatureC(atMs), 1);
    model.observe('rh-south', atMs, 60, 1);
  }
  model.advanceTo(START_MS + toH * HOUR_MS);
}

const chance = (model: FarmModel): number =>
  model.explain('t1').lines.find(({ quantity }) => quantity === 'the reading is the tray')?.value ?? 0;

describe('a tray on ground of its own', () => {
  it('is forecast from what its readings did, after eight dry-downs', () => {
    const model = modelOf([trayOf('t1')]);
    playStrangeGround(model, 0, 8 * EVERY_H + 5);
    const left = HOURS_TO_REFILL - 5;
    const { meanBlockHours, waterContentM3PerM3 } = model.forecast('t1');
    expect(Math.abs(middleH(model, 't1') - left) / left).toBeLessThan(0.25);
    expect(meanBlockHours[24]).toBeLessThan(left);
    expect(meanBlockHours[215]).toBeGreaterThan(left);
    expect(Math.abs(waterContentM3PerM3 - drained(5))).toBeLessThan(0.02);
    expect(chance(model)).toBeGreaterThan(0.8);
  });

  it('is remembered through a snapshot that went through JSON', () => {
    const model = modelOf([trayOf('t1')]);
    playStrangeGround(model, 0, 2 * EVERY_H + 7);
    const again = createFarmModel(farmOf(), JSON.parse(JSON.stringify(model.snapshot())));
    playStrangeGround(model, 2 * EVERY_H + 8, 3 * EVERY_H + 5);
    playStrangeGround(again, 2 * EVERY_H + 8, 3 * EVERY_H + 5);
    expect(again.forecast('t1')).toEqual(model.forecast('t1'));
    expect(again.snapshot()).toEqual(model.snapshot());
  });

  it('a snapshot from before there were experts goes on without them, and gets them with the next reading', () => {
    const model = modelOf([trayOf('t1')]);
    playStrangeGround(model, 0, EVERY_H);
    const text = JSON.stringify(model.snapshot());
    const before = JSON.parse(text, (key, value) => (key === 'experts' ? undefined : value));
    const again = createFarmModel(farmOf(), before);
    expect(chance(again)).toBe(0);
    playStrangeGround(again, EVERY_H + 1, EVERY_H + 6);
    expect(chance(again)).toBeGreaterThan(0);
  });
});

describe('a usual tray', () => {
  it('whose witness stands a little off keeps the block model', () => {
    const model = modelOf([trayOf('t1')]);
    play(model, {
      hours: 8 * 24,
      pours: [1, 3, 4, 6, 7].map((day) => ({ atH: 24 * day + 3, share: 1 })),
      reading: (water) => voltsOf(water - 0.02),
    });
    expect(chance(model)).toBeLessThan(0.1);
  });

  it('whose probe drifts for three weeks keeps the block model', () => {
    const model = modelOf([trayOf('t1')]);
    play(model, {
      hours: 20 * 24,
      pours: Array.from({ length: 14 }, (_, i) => ({ atH: 34 * i + 30, share: 1 })),
      driftPerDay: -0.014,
    });
    expect(chance(model)).toBeLessThan(0.3);
  });

  it('with a neighbour on strange ground begins with some of what that has seen', () => {
    const spec = farmOf({
      probes: [
        ...farmOf().probes,
        {
          id: 'moist-t2',
          kind: 'block-moisture',
          trayId: 't2',
          calibration: [
            { volts: voltsOf(0.15), waterContentM3PerM3: 0.15 },
            { volts: voltsOf(0.65), waterContentM3PerM3: 0.65 },
          ],
        },
      ],
    });
    const model = modelOf([trayOf('t1')], spec);
    playStrangeGround(model, 0, 8 * EVERY_H);
    const atMs = START_MS + 8 * EVERY_H * HOUR_MS;
    model.addTray(trayOf('t2'), atMs);
    for (let minute = 10; minute <= 120; minute += 10) {
      model.observe('moist-t2', atMs + minute * MINUTE_MS, voltsOf(0.55), 1);
      model.observe('temp-south', atMs + minute * MINUTE_MS, 20, 1);
    }
    model.advanceTo(atMs + DAY_MS / 12);
    const line = model.explain('t2').lines.find(({ quantity }) => quantity === 'the reading is the tray');
    expect(line?.value).toBeGreaterThan(0.3);
  });
});

describe('joinHours()', () => {
  const members = Float64Array.from({ length: 240 }, (_, m) => 10 + m / 24);
  const word = { middle: Math.log(40.5), halfWidth: 0.5 };

  it('leaves the members as they are where the reading is not the tray', () => {
    joinHours(members, word, 0).forEach((hours, m) => {
      expect(hours).toBeCloseTo(members[m] as number, 9);
    });
  });

  it('gives the experts’ quantiles where it surely is', () => {
    const joined = joinHours(members, word, 1);
    expect(joined[120]).toBeCloseTo(40, 0);
    expect(Math.log((joined[216] as number) + 0.5) - word.middle).toBeCloseTo(0.5, 1);
  });

  it('is wider in between, by as far as the two stand apart', () => {
    const width = (chanceOf: number): number => {
      const joined = joinHours(members, word, chanceOf);
      return Math.log((joined[216] as number) / (joined[24] as number));
    };
    expect(width(0.5)).toBeGreaterThan(Math.max(width(0), width(1)));
  });

  it('stays sorted and finite when no member comes to the refill point', () => {
    const joined = joinHours(new Float64Array(240).fill(Number.POSITIVE_INFINITY), word, 0.3);
    joined.forEach((hours, m) => {
      expect(Number.isFinite(hours)).toBe(true);
      if (m > 0) expect(hours).toBeGreaterThanOrEqual(joined[m - 1] as number);
    });
  });
});
