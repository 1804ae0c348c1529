import { describe, expect, it } from 'vitest';
import type { ProbeSpec } from '../../src/drying/model/farm-model.js';
import { farmOf, HOUR_MS, modelOf, moisture, play, START_MS, trayOf } from './model-farm.js';

const raw: ProbeSpec = { id: 'raw-t1', kind: 'block-moisture', trayId: 't1' };
const rawFarm = farmOf({ probes: [...farmOf().probes.filter((probe) => probe !== moisture), raw] });

describe('a probe without a calibration', () => {
  it('that rises with wetness is understood after a few told waterings', () => {
    const model = modelOf([trayOf('t1')], rawFarm);
    const hours = [27, 51, 75];
    for (const [i, atH] of hours.entries()) {
      const fromH = i === 0 ? 0 : (hours[i - 1] ?? 0) + 0.25;
      play(model, {
        hours: atH - fromH,
        fromH,
        startWater: 0.6,
        probeId: 'raw-t1',
        reading: (water) => 0.4 + 2.4 * water,
      });
      model.recordWatering('t1', START_MS + (atH + 0.1) * HOUR_MS, undefined);
    }
    play(model, {
      hours: 30,
      fromH: 75.25,
      startWater: 0.6,
      probeId: 'raw-t1',
      reading: (water) => 0.4 + 2.4 * water,
    });
    const slope = model.explain('t1').lines.find((line) => line.unit === 'V per m3/m3');
    expect(slope?.value).toBeLessThan(0);
    const fallen = model.forecast('t1').waterContentM3PerM3;
    expect(fallen).toBeLessThan(0.52);
  });

  it('learns what "full" reads from what it reads after waterings', () => {
    const model = modelOf([trayOf('t1')], rawFarm);
    play(model, {
      hours: 110,
      pours: [27, 51, 75, 105].map((atH) => ({ atH, share: 1 })),
      probeId: 'raw-t1',
    });
    const full = model.explain('t1').lines.find((line) => line.quantity.endsWith('reading when full'));
    expect(Math.abs((full?.value ?? 0) - (2.6 - 2 * 0.615))).toBeLessThan(0.1);
    expect(full?.sd).toBeLessThan(0.1);
  });
});

describe('a drifting probe', () => {
  const pours = Array.from({ length: 12 }, (_, i) => ({ atH: 26 + 24 * i, share: 1 }));

  it('is told of once it reads another value after each watering', () => {
    const model = modelOf([trayOf('t1')]);
    const drifts = play(model, { hours: 300, pours, driftPerDay: 0.01 }).filter(
      (event) => event.kind === 'probe-drift',
    );
    expect(drifts.length).toBeGreaterThanOrEqual(1);
    expect(drifts[0]?.driftM3PerM3).toBeGreaterThan(0.04);
  });

  it('is not told of when it stays', () => {
    const drifts = play(modelOf([trayOf('t1')]), { hours: 300, pours }).filter(
      (event) => event.kind === 'probe-drift',
    );
    expect(drifts).toEqual([]);
  });
});

describe('finished dry-downs', () => {
  const model = modelOf([trayOf('t1')]);
  const events = play(model, {
    hours: 110,
    pours: [27, 51, 75, 99].map((atH) => ({ atH, share: 1 })),
  });

  it('are told with their mean climate', () => {
    const dryDowns = events.flatMap((event) => (event.kind === 'dry-down-finished' ? [event.dryDown] : []));
    expect(dryDowns.length).toBe(3);
    for (const one of dryDowns) {
      expect(one.endedAtMs - one.startedAtMs).toBeGreaterThan(20 * HOUR_MS);
      expect(one.startWaterContentM3PerM3).toBeGreaterThan(one.endWaterContentM3PerM3);
      expect(one.meanTemperatureC).toBeGreaterThan(14);
      expect(one.meanTemperatureC).toBeLessThan(26);
      expect(one.meanVpdKPa).toBeGreaterThan(0.3);
      expect(one.hasProbe).toBe(true);
    }
  });
});
