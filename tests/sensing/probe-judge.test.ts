import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ProbeConfig } from '../../shared/config/probes.js';
import type { Flag } from '../../shared/reading.js';
import { createProbeJudge, type ProbeJudge } from '../../src/sensing/probe-judge.js';

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;
const START_MS = Date.parse('2026-04-18T06:00:00Z');

const MOISTURE: ProbeConfig = {
  id: 'moist-t1',
  kind: 'block-moisture',
  tray: 't1',
  calibration: [
    { volts: 2.21, waterContentM3PerM3: 0.155 },
    { volts: 1.33, waterContentM3PerM3: 0.581 },
  ],
};
const RAW_MOISTURE: ProbeConfig = { id: 'moist-t2', kind: 'block-moisture', tray: 't2' };
const TEMPERATURE: ProbeConfig = { id: 'temp-south', kind: 'air-temperature', bench: 'south' };
const HUMIDITY: ProbeConfig = { id: 'rh-south', kind: 'relative-humidity', bench: 'south' };
const LIGHT: ProbeConfig = { id: 'light-south', kind: 'light', bench: 'south', unit: 'lx' };
const WEIGHT: ProbeConfig = { id: 'scale-t1', kind: 'tray-weight', tray: 't1' };

/** Volts of the calibrated probe at a water content. */
function volts(waterContentM3PerM3: number): number {
  return 1.33 + ((0.581 - waterContentM3PerM3) * 0.88) / 0.426;
}

function converted(value: number): number {
  return Math.round((value * 1023) / 5) * (5 / 1023);
}

interface Seen {
  readonly flag: Flag;
  readonly reasons: readonly string[];
}

function run(
  judge: ProbeJudge,
  values: readonly (number | undefined)[],
  cadenceMs: number,
  expectedPerReading?: number,
): Seen[] {
  return values.map((value, i) => judge.judge(START_MS + i * cadenceMs, value, expectedPerReading));
}

/** A dry-down of `hours` from `from` to `to`, with one converter step of flicker. */
function dryDown(from: number, to: number, hours: number, cadenceMs: number): number[] {
  const count = Math.floor((hours * HOUR_MS) / cadenceMs);
  return Array.from({ length: count }, (_, i) =>
    converted(volts(from + ((to - from) * i) / count) + 0.004 * Math.sin(i * 12.9898)),
  );
}

function flagged(seen: readonly Seen[]): Seen[] {
  return seen.filter(({ flag }) => flag !== 1);
}

describe.each([
  ['10 s', 10_000],
  ['1 min', MINUTE_MS],
  ['15 min', 15 * MINUTE_MS],
  ['3 h', 3 * HOUR_MS],
])('a block-moisture probe read every %s', (_name, cadenceMs) => {
  it('passes a plain dry-down', () => {
    const judge = createProbeJudge(MOISTURE);
    const seen = run(judge, dryDown(0.57, 0.2, 14, cadenceMs), cadenceMs);
    expect(flagged(seen)).toEqual([]);
    expect(judge.health(START_MS + 14 * HOUR_MS).reason).toBe('ok');
  });

  it('holds a watering back for one reading at the most and never fails it', () => {
    const judge = createProbeJudge(MOISTURE);
    const dry = dryDown(0.5, 0.3, 10, cadenceMs);
    const wet = dryDown(0.57, 0.5, 5, cadenceMs);
    const seen = run(judge, [...dry, ...wet], cadenceMs).slice(dry.length);
    expect(flagged(seen).length).toBeLessThanOrEqual(1);
    for (const { flag, reasons } of flagged(seen)) {
      expect(flag).toBe(3);
      expect(reasons).toEqual(['rise-unconfirmed']);
    }
  });
});

describe('block moisture', () => {
  it('a watering that wicks in slowly and drains a little is all passed', () => {
    const judge = createProbeJudge(MOISTURE);
    const wicking = Array.from({ length: 120 }, (_, i) => volts(0.3 + 0.28 * (1 - Math.exp(-i / 15))));
    const draining = Array.from({ length: 60 }, (_, i) => volts(0.58 - 0.05 * (1 - Math.exp(-i / 10))));
    const seen = run(judge, [...dryDown(0.4, 0.3, 4, MINUTE_MS), ...wicking, ...draining], MINUTE_MS);
    expect(flagged(seen)).toEqual([]);
  });

  it('a lone spike, dry or wet, is flagged and what follows is not', () => {
    for (const spike of [0.21, 0.55]) {
      const values = dryDown(0.42, 0.41, 1, MINUTE_MS);
      values[30] = volts(spike);
      const seen = run(createProbeJudge(MOISTURE), values, MINUTE_MS);
      expect(seen.flatMap(({ flag }, i) => (flag === 1 ? [] : [i]))).toEqual([30]);
    }
  });

  it('two wet spikes in a row are mistaken for a watering, but the way back is believed at once', () => {
    const values = dryDown(0.42, 0.41, 1, MINUTE_MS);
    values[30] = volts(0.55);
    values[31] = volts(0.56);
    const seen = run(createProbeJudge(MOISTURE), values, MINUTE_MS);
    expect(seen[30]?.reasons).toEqual(['rise-unconfirmed']);
    expect(flagged(seen.slice(32))).toEqual([]);
  });

  it('a probe that loses contact stays suspect for hours, then its new level is handed on', () => {
    const before = dryDown(0.45, 0.44, 1, 15 * MINUTE_MS);
    const after = dryDown(0.2, 0.19, 12, 15 * MINUTE_MS);
    const judge = createProbeJudge(MOISTURE);
    const seen = run(judge, [...before, ...after], 15 * MINUTE_MS).slice(before.length);
    const suspects = flagged(seen);
    expect(suspects.length).toBeGreaterThan(16);
    expect(suspects.length).toBeLessThanOrEqual(24);
    expect(suspects.every(({ flag, reasons }) => flag >= 3 && reasons.includes('spike'))).toBe(true);
  });

  it('an open or shorted wire fails, tells as out of range, and recovers', () => {
    const judge = createProbeJudge(MOISTURE);
    run(judge, dryDown(0.45, 0.44, 1, MINUTE_MS), MINUTE_MS);
    for (const rail of [0, 5.3]) expect(createProbeJudge(RAW_MOISTURE).judge(START_MS, rail).flag).toBe(4);
    for (let i = 60; i < 120; i++) expect(judge.judge(START_MS + i * MINUTE_MS, 0).flag).toBe(4);
    expect(judge.health(START_MS + 120 * MINUTE_MS)).toEqual({ ok: false, reason: 'out-of-range' });
    for (let i = 120; i < 240; i++) judge.judge(START_MS + i * MINUTE_MS, volts(0.43));
    expect(judge.health(START_MS + 240 * MINUTE_MS)).toEqual({ ok: true, reason: 'ok' });
  });

  it('beyond the calibration it is suspect, far beyond it fails', () => {
    const judge = createProbeJudge(MOISTURE);
    expect(judge.judge(START_MS, volts(0.6))).toMatchObject({ flag: 3, reasons: ['beyond-calibration'] });
    expect(createProbeJudge(MOISTURE).judge(START_MS, volts(0.9)).flag).toBe(4);
  });

  it('a stuck probe is found within two hours when the climate says that the block must have dried', () => {
    const stuck = Array.from({ length: 240 }, () => converted(volts(0.45)));
    const drying = run(createProbeJudge(MOISTURE), stuck, MINUTE_MS, 0.03 / 60);
    const first = drying.findIndex(({ flag }) => flag === 3);
    expect(first).toBeGreaterThan(60);
    expect(first).toBeLessThanOrEqual(120);
    expect(drying[first]?.reasons).toEqual(['flat-line']);
  });

  it('a wet block under a dome may be flat for days', () => {
    const judge = createProbeJudge(MOISTURE);
    const flat = Array.from({ length: 72 * 4 }, (_, i) => converted(volts(0.57) + 0.002 * Math.sin(i)));
    expect(flagged(run(judge, flat, 15 * MINUTE_MS, 0.0002 / 4))).toEqual([]);
    expect(judge.health(START_MS + 72 * HOUR_MS).ok).toBe(true);
  });

  it('with no word of the climate, twelve flat hours are suspect and never a fail', () => {
    const judge = createProbeJudge(MOISTURE);
    const flat = Array.from({ length: 24 * 4 }, () => converted(volts(0.45)));
    const seen = run(judge, flat, 15 * MINUTE_MS);
    expect(seen.findIndex(({ flag }) => flag !== 1)).toBe(49);
    expect(seen.every(({ flag }) => flag < 4)).toBe(true);
    expect(judge.health(START_MS + 24 * HOUR_MS)).toEqual({ ok: false, reason: 'flat-line' });
  });

  it('a block dried out may lie still, whatever the climate', () => {
    const flat = Array.from({ length: 24 * 4 }, () => converted(volts(0.16)));
    expect(flagged(run(createProbeJudge(MOISTURE), flat, 15 * MINUTE_MS, 0.02))).toEqual([]);
  });

  it('a slow night that moves by less than a converter step is no flat line', () => {
    const night = Array.from({ length: 14 * 60 }, (_, i) => volts(0.5) + (i * 0.004) / (14 * 60));
    expect(flagged(run(createProbeJudge(MOISTURE), night, MINUTE_MS))).toEqual([]);
  });

  it('without a calibration a jump either way waits for one confirming reading, and the way back for none', () => {
    const judge = createProbeJudge(RAW_MOISTURE);
    const seen = run(judge, [2.2, 2.2, 2.2, 1.4, 1.4, 1.41, 2.3, 2.3], MINUTE_MS);
    expect(seen.map(({ flag }) => flag)).toEqual([1, 1, 1, 3, 1, 1, 1, 1]);
  });

  it('after a gap of two days the first reading is taken as it comes', () => {
    const judge = createProbeJudge(MOISTURE);
    run(judge, dryDown(0.5, 0.45, 2, MINUTE_MS), MINUTE_MS);
    expect(judge.judge(START_MS + 50 * HOUR_MS, volts(0.2)).flag).toBe(1);
  });
});

describe('climate probes', () => {
  it('air temperature: a heat spike is suspect, the power-on value of 85 °C fails, a slow day passes', () => {
    const day = Array.from({ length: 1440 }, (_, i) => 16 + 12 * Math.sin((i / 1440) * 2 * Math.PI));
    expect(flagged(run(createProbeJudge(TEMPERATURE), day, MINUTE_MS))).toEqual([]);
    const spiked = day.with(700, 34);
    const seen = run(createProbeJudge(TEMPERATURE), spiked, MINUTE_MS);
    expect(seen.flatMap(({ flag }, i) => (flag === 1 ? [] : [i]))).toEqual([700]);
    expect(createProbeJudge(TEMPERATURE).judge(START_MS, 85)).toMatchObject({
      flag: 4,
      reasons: ['gross-range'],
    });
    expect(createProbeJudge(TEMPERATURE).judge(START_MS, -127).flag).toBe(4);
  });

  it('air temperature: a frosty night and a hot noon are believed', () => {
    for (const value of [-4.5, 1.5, 48])
      expect(createProbeJudge(TEMPERATURE).judge(START_MS, value).flag).toBe(1);
  });

  it('air temperature: an opened door is believed after three readings', () => {
    const seen = run(createProbeJudge(TEMPERATURE), [20, 20, 12, 12.1, 12, 12], MINUTE_MS);
    expect(seen.map(({ flag }) => flag)).toEqual([1, 1, 3, 3, 1, 1]);
  });

  it('relative humidity: a saturated night passes, thirteen hours at 100 % are stuck', () => {
    const judge = createProbeJudge(HUMIDITY);
    const seen = run(
      judge,
      Array.from({ length: 14 * 4 }, () => 100),
      15 * MINUTE_MS,
    );
    expect(seen.slice(0, 12 * 4).every(({ flag }) => flag === 1)).toBe(true);
    expect(seen.at(-1)).toMatchObject({ flag: 3, reasons: ['saturated'] });
    expect(createProbeJudge(HUMIDITY).judge(START_MS, 0).flag).toBe(3);
    expect(createProbeJudge(HUMIDITY).judge(START_MS, 140).flag).toBe(4);
  });

  it('light: a dark night of any length is no fault, a constant glow of a day is', () => {
    const dark = Array.from({ length: 40 * 4 }, () => 0);
    expect(flagged(run(createProbeJudge(LIGHT), dark, 15 * MINUTE_MS))).toEqual([]);
    const glow = Array.from({ length: 20 * 4 }, () => 4200);
    expect(run(createProbeJudge(LIGHT), glow, 15 * MINUTE_MS).at(-1)?.flag).toBe(3);
  });

  it('tray weight: pouring and tipping out pass, a lifted tray is suspect and its return is not', () => {
    const tray = (grams: number, count: number) => Array.from({ length: count }, (_, i) => grams - i * 0.5);
    const values = [...tray(1900, 30), ...tray(2600, 20), ...tray(2400, 30)];
    const seen = run(createProbeJudge(WEIGHT), values, MINUTE_MS);
    expect(flagged(seen).map(({ reasons }) => reasons)).toEqual([['rise-unconfirmed']]);
    const lifted = [...tray(2400, 20), 3, 2, ...tray(2385, 20)];
    const seenLift = run(createProbeJudge(WEIGHT), lifted, MINUTE_MS);
    expect(seenLift.flatMap(({ flag }, i) => (flag === 1 ? [] : [i]))).toEqual([20, 21]);
  });
});

describe('missing, late and broken readings', () => {
  it('no answer and NaN are missing, and a long silence is told', () => {
    const judge = createProbeJudge(TEMPERATURE);
    run(judge, [20, 20.1, 20.2], MINUTE_MS);
    expect(judge.judge(START_MS + 3 * MINUTE_MS, undefined)).toMatchObject({
      flag: 9,
      reasons: ['no-answer'],
    });
    expect(judge.judge(START_MS + 4 * MINUTE_MS, Number.NaN)).toMatchObject({
      flag: 9,
      reasons: ['not-a-number'],
    });
    expect(judge.health(START_MS + 10 * MINUTE_MS).ok).toBe(true);
    expect(judge.health(START_MS + 13 * MINUTE_MS)).toEqual({ ok: false, reason: 'silent' });
  });

  it('a probe that was asked in vain is silent after ten minutes', () => {
    const judge = createProbeJudge(TEMPERATURE);
    judge.judge(START_MS, undefined);
    judge.judge(START_MS + 5 * MINUTE_MS, undefined);
    expect(judge.health(START_MS + 9 * MINUTE_MS).ok).toBe(true);
    expect(judge.health(START_MS + 11 * MINUTE_MS).reason).toBe('silent');
  });

  it('a probe that nobody is known to have asked may be quiet for six hours (QARTOD: reception of data)', () => {
    const judge = createProbeJudge(TEMPERATURE);
    expect(judge.health(START_MS).ok).toBe(true);
    expect(judge.health(START_MS + 5 * HOUR_MS).ok).toBe(true);
    expect(judge.health(START_MS + 7 * HOUR_MS).reason).toBe('silent');
  });

  it('a probe read every three hours is not silent between its readings', () => {
    const judge = createProbeJudge(TEMPERATURE);
    run(judge, [14, 15, 16, 17], 3 * HOUR_MS);
    expect(judge.health(START_MS + 12 * HOUR_MS).ok).toBe(true);
    expect(judge.health(START_MS + 21 * HOUR_MS).reason).toBe('silent');
  });

  it('a late reading is judged by its range only and disturbs nothing', () => {
    const judge = createProbeJudge(TEMPERATURE);
    run(judge, [20, 20, 20], MINUTE_MS);
    expect(judge.judge(START_MS, 30)).toMatchObject({ flag: 2, reasons: ['out-of-order'] });
    expect(judge.judge(START_MS + 3 * MINUTE_MS, 20.1).flag).toBe(1);
  });

  it('a probe whose readings jump about is told as noisy', () => {
    const judge = createProbeJudge(TEMPERATURE);
    for (let i = 0; i < 240; i++) judge.judge(START_MS + i * MINUTE_MS, 20 + ((i * 7919) % 13) * 2.3);
    expect(judge.health(START_MS + 240 * MINUTE_MS)).toEqual({ ok: false, reason: 'noisy' });
  });
});

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
