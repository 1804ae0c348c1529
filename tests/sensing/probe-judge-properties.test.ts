import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createProbeJudge } from '../../src/sensing/probe-judge.js';
import {
  HOUR_MS,
  HUMIDITY,
  LIGHT,
  MOISTURE,
  RAW_MOISTURE,
  START_MS,
  scatterFrom,
  TEMPERATURE,
  volts,
  WEIGHT,
} from './judge-bench.js';

describe('whatever comes', () => {
  const anyProbe = fc.constantFrom(MOISTURE, RAW_MOISTURE, TEMPERATURE, HUMIDITY, LIGHT, WEIGHT);
  const anyValue = fc.oneof(
    fc.constant(undefined),
    fc.double(),
    fc.double({ min: -200, max: 5000, noNaN: true }),
    fc.double({ min: 0, max: 5, noNaN: true }),
  );
  const anySteps = fc.array(fc.tuple(fc.integer({ min: -60_000, max: 4 * 3_600_000 }), anyValue), {
    maxLength: 80,
  });

  it('flags are QARTOD flags with reasons, water content is never NaN, missing is missing', () => {
    fc.assert(
      fc.property(anyProbe, anySteps, (probe, steps) => {
        const judge = createProbeJudge(probe);
        let atMs = START_MS;
        for (const [stepMs, value] of steps) {
          atMs += stepMs;
          const { flag, reasons, waterContentM3PerM3 } = judge.judge(atMs, value);
          expect([1, 2, 3, 4, 9]).toContain(flag);
          expect(reasons.length > 0).toBe(flag !== 1);
          expect(flag === 9).toBe(value === undefined || !Number.isFinite(value));
          if (waterContentM3PerM3 !== undefined) {
            expect(waterContentM3PerM3).toBeGreaterThanOrEqual(0);
            expect(waterContentM3PerM3).toBeLessThanOrEqual(1);
          }
        }
        expect(typeof judge.health(atMs).ok).toBe('boolean');
      }),
    );
  });

  it('does not look ahead: what follows never changes a flag', () => {
    fc.assert(
      fc.property(anyProbe, anySteps, (probe, steps) => {
        const flagsOf = (count: number) => {
          const judge = createProbeJudge(probe);
          let atMs = START_MS;
          return steps.slice(0, count).map(([stepMs, value]) => {
            atMs += stepMs;
            return judge.judge(atMs, value).flag;
          });
        };
        const half = steps.length >> 1;
        expect(flagsOf(steps.length).slice(0, half)).toEqual(flagsOf(half));
      }),
    );
  });

  it('a steep rise of calibrated moisture never fails within the calibration', () => {
    const inside = fc.double({ min: 0.16, max: 0.58, noNaN: true });
    fc.assert(
      fc.property(inside, inside, fc.integer({ min: 1000, max: 3 * HOUR_MS }), (a, b, stepMs) => {
        const judge = createProbeJudge(MOISTURE);
        judge.judge(START_MS, volts(Math.min(a, b)));
        expect(judge.judge(START_MS + stepMs, volts(Math.max(a, b))).flag).toBeLessThan(4);
        expect(judge.judge(START_MS + 2 * stepMs, volts(Math.max(a, b))).flag).toBe(1);
      }),
    );
  });
});

describe('three days of a noisy probe with a spike in every two hundred readings', () => {
  it.each([
    { cadenceS: 10, sd: 0.01 },
    { cadenceS: 60, sd: 0.003 },
    { cadenceS: 60, sd: 0.01 },
    { cadenceS: 60, sd: 0.02 },
    { cadenceS: 300, sd: 0.01 },
  ])('every $cadenceS s, scatter $sd: spikes are seen and little else', ({ cadenceS, sd }) => {
    const judge = createProbeJudge(MOISTURE);
    const { uniform, normal } = scatterFrom(20_260_418);
    let water = 0.55;
    const count = { spikes: 0, seen: 0, others: 0, mistaken: 0, untrusted: 0 };
    for (let atS = 0; atS < 3 * 86_400; atS += cadenceS) {
      const hour = (atS / 3600) % 24;
      water -= (cadenceS / 3600) * (0.008 + 0.03 * Math.max(0, Math.sin(((hour - 6) / 12) * Math.PI)));
      if (water < 0.26) water = 0.57;
      const isSpike = uniform() < 0.005;
      const spike = isSpike ? (uniform() < 0.5 ? -0.2 : 0.2) : 0;
      const { flag } = judge.judge(START_MS + atS * 1000, volts(water + sd * normal() + spike));
      if (isSpike) count.spikes += 1;
      else count.others += 1;
      if (flag >= 3) count[isSpike ? 'seen' : 'mistaken'] += 1;
      if (!judge.health(START_MS + atS * 1000).ok) count.untrusted += 1;
    }
    expect(count.seen / count.spikes).toBeGreaterThan(0.95);
    expect(count.mistaken / count.others).toBeLessThan(0.02);
    expect(count.untrusted).toBe(0);
  });
});
