import { describe, expect, it } from 'vitest';
import type { ProbeSpec } from '../../src/drying/model/farm-model.js';
import { detected, farmOf, HOUR_MS, modelOf, moisture, play, START_MS, trayOf } from './model-farm.js';

const roundly = [
  { atH: 27, share: 1 },
  { atH: 51.3, share: 1 },
  { atH: 74.8, share: 1 },
  { atH: 99.1, share: 1 },
];

describe('waterings that nobody told of', () => {
  it('are each noticed once, within the hour, and dated to within half an hour', () => {
    const seen = detected(play(modelOf([trayOf('t1')]), { hours: 120, pours: roundly }));
    expect(seen.length).toBe(roundly.length);
    seen.forEach((watering, i) => {
      const pouredAtMs = START_MS + (roundly[i]?.atH ?? 0) * HOUR_MS;
      expect(Math.abs(watering.atMs - pouredAtMs)).toBeLessThan(0.5 * HOUR_MS);
      expect(watering.noticedAtMs).toBeGreaterThanOrEqual(watering.atMs);
      expect(watering.filled).toBe(true);
    });
  });

  it('are told of while the blocks still drink, then with their amount', () => {
    const events = play(modelOf([trayOf('t1')]), { hours: 120, pours: roundly });
    const begun = events.filter((event) => event.kind === 'watering-begun');
    const ended = detected(events);
    expect(begun.map(({ atMs }) => atMs)).toEqual(ended.map(({ atMs }) => atMs));
    begun.forEach((rise, i) => {
      expect(rise.noticedAtMs - rise.atMs).toBeLessThanOrEqual(0.5 * HOUR_MS);
      expect(rise.noticedAtMs).toBeLessThan(ended[i]?.noticedAtMs ?? 0);
      expect(rise.risenM3PerM3).toBeGreaterThan(0.035);
    });
  });

  it('are never seen in a probe that drifts, wanders with warmth and is noisy', () => {
    for (const perK of [-0.003, 0, 0.003])
      for (const driftPerDay of [-0.004, 0.004]) {
        const model = modelOf([trayOf('t1')]);
        const seen = play(model, { hours: 96, noiseSd: 0.008, perK, driftPerDay, startWater: 0.61 });
        expect(detected(seen), `${perK} per K, ${driftPerDay} per day`).toEqual([]);
      }
  });

  it('are recognised as partial, with what the blocks took up', () => {
    let before = 0;
    const model = modelOf([trayOf('t1')]);
    const [watering] = detected(
      play(model, {
        hours: 34,
        pours: [{ atH: 30, share: 0.5 }],
        atHour: (atMs, water) => {
          if (atMs === START_MS + 29 * HOUR_MS) before = water;
        },
      }),
    );
    expect(watering?.filled).toBe(false);
    const trayMl = 72 * 3.8 ** 3;
    const takenUp = (0.5 * (0.615 - before) * trayMl) / (watering?.takenUpMl ?? 0);
    expect(takenUp).toBeGreaterThan(0.6);
    expect(takenUp).toBeLessThan(1.6);
  });

  it('are noticed at readings every 10 s and every 15 min alike', () => {
    for (const cadenceMin of [1 / 6, 15]) {
      const pours = [{ atH: 26.5, share: 1 }];
      expect(detected(play(modelOf([trayOf('t1')]), { hours: 30, pours, cadenceMin })).length).toBe(1);
    }
  });

  it('show on a scale, and in raw volts without a calibration', () => {
    const scale: ProbeSpec = { id: 'scale-t1', kind: 'tray-weight', trayId: 't1', emptyTrayG: 640 };
    const raw: ProbeSpec = { id: 'raw-t1', kind: 'block-moisture', trayId: 't1' };
    const readings = {
      'scale-t1': (water: number) => 640 + 72 * 3.8 ** 3 * (0.2 + water),
      'raw-t1': (water: number) => 2.6 - 2 * water,
    };
    for (const probe of [scale, raw]) {
      const model = modelOf(
        [trayOf('t1')],
        farmOf({ probes: [...farmOf().probes, probe].filter((p) => p !== moisture) }),
      );
      const seen = play(model, {
        hours: 78,
        pours: roundly.slice(0, 3),
        probeId: probe.id,
        reading: readings[probe.id as keyof typeof readings],
      });
      expect(detected(seen).length, probe.id).toBe(3);
    }
  });
});

describe('waterings told and seen', () => {
  it('are one when told first', () => {
    const model = modelOf([trayOf('t1')]);
    play(model, { hours: 27.25 });
    model.recordWatering('t1', START_MS + 27.3 * HOUR_MS, undefined);
    const events = play(model, { hours: 6, fromH: 27.5, startWater: 0.39, pours: [{ atH: 27.6, share: 1 }] });
    expect(detected(events)).toEqual([]);
  });

  it('are one when seen first, whatever the note says of the hour', () => {
    const model = modelOf([trayOf('t1')]);
    play(model, { hours: 29, pours: [{ atH: 26.5, share: 1 }] });
    const before = model.forecast('t1').waterContentM3PerM3;
    model.recordWatering('t1', START_MS + 27 * HOUR_MS, undefined);
    expect(model.forecast('t1').waterContentM3PerM3).toBeCloseTo(before, 6);
  });

  it('twice within an hour leave the tray full, not fuller', () => {
    const model = modelOf([trayOf('t2')]);
    model.recordWatering('t2', START_MS, undefined);
    model.recordWatering('t2', START_MS + 0.6 * HOUR_MS, undefined);
    model.advanceTo(START_MS + HOUR_MS);
    expect(model.forecast('t2').waterContentM3PerM3).toBeLessThanOrEqual(0.62);
    expect(model.forecast('t2').waterContentM3PerM3).toBeGreaterThan(0.58);
  });

  it('by measure raise the tray by the measure, and never above capacity', () => {
    const trayMl = 72 * 3.8 ** 3;
    const model = modelOf([trayOf('t2')]);
    model.recordWatering('t2', START_MS, undefined);
    model.advanceTo(START_MS + 30 * HOUR_MS);
    const before = model.forecast('t2').waterContentM3PerM3;
    model.recordWatering('t2', START_MS + 30 * HOUR_MS, 0.08 * trayMl);
    const after = model.forecast('t2').waterContentM3PerM3;
    expect(after - before).toBeGreaterThan(0.06);
    expect(after - before).toBeLessThan(0.1);
    model.recordWatering('t2', START_MS + 30.2 * HOUR_MS, 5 * trayMl);
    expect(model.forecast('t2').waterContentM3PerM3).toBeLessThanOrEqual(0.63);
  });

  it('perhaps watered is carried as both', () => {
    const model = modelOf([trayOf('t2')]);
    model.recordWatering('t2', START_MS, undefined);
    model.advanceTo(START_MS + 40 * HOUR_MS);
    const dry = model.forecast('t2').waterContentM3PerM3;
    model.recordPerhapsWatered('t2', START_MS + 40 * HOUR_MS, 0.5);
    const both = model.forecast('t2');
    expect(both.waterContentM3PerM3).toBeGreaterThan(dry + 0.04);
    expect(both.waterContentM3PerM3).toBeLessThan(0.58);
    expect(both.waterContentSdM3PerM3).toBeGreaterThan(0.04);
    model.recordLook('t2', 4, START_MS + 41 * HOUR_MS);
    expect(model.forecast('t2').waterContentM3PerM3).toBeGreaterThan(both.waterContentM3PerM3);
  });
});
