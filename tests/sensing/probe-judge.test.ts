import { describe, expect, it } from 'vitest';
import { createProbeJudge } from '../../src/sensing/probe-judge.js';
import {
  converted,
  dryDown,
  flagged,
  HOUR_MS,
  MINUTE_MS,
  MOISTURE,
  RAW_MOISTURE,
  run,
  START_MS,
  volts,
} from './judge-bench.js';

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

  it('a probe that is noisy by nature is believed, and its spikes are still seen', () => {
    const judge = createProbeJudge(MOISTURE);
    const scatter = (i: number) =>
      ((i * 7919) % 101) / 101 + ((i * 104_729) % 97) / 97 + ((i * 1_299_709) % 89) / 89 - 1.5;
    const values = Array.from({ length: 1440 }, (_, i) => volts(0.42 + 0.04 * scatter(i)));
    const seen = run(judge, values, MINUTE_MS);
    expect(flagged(seen).length / seen.length).toBeLessThan(0.02);
    expect(judge.judge(START_MS + 1440 * MINUTE_MS, volts(0.2)).reasons).toEqual(['spike']);
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

  it('beyond the calibration it is suspect, held, and far beyond the probe is not to be trusted', () => {
    const judge = createProbeJudge(MOISTURE);
    expect(judge.judge(START_MS, volts(0.6))).toMatchObject({ flag: 3, reasons: ['beyond-calibration'] });
    const far = createProbeJudge(MOISTURE);
    for (let i = 0; i < 60; i++) {
      const { flag, reasons, waterContentM3PerM3 } = far.judge(START_MS + i * MINUTE_MS, volts(0.9));
      expect(flag).toBe(3);
      expect(reasons).toContain('far-beyond-calibration');
      expect(waterContentM3PerM3).toBeCloseTo(0.581 + 0.2 * 0.426, 9);
    }
    expect(far.health(START_MS + HOUR_MS)).toEqual({ ok: false, reason: 'out-of-range' });
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

  it('a block that stands in water is given three times as long', () => {
    const hoursUntilDoubted = (water: number) => {
      const stuck = Array.from({ length: 24 * 60 }, () => converted(volts(water)));
      return (
        run(createProbeJudge(MOISTURE), stuck, MINUTE_MS, 0.01 / 60).findIndex(({ flag }) => flag === 3) / 60
      );
    };
    expect(hoursUntilDoubted(0.45)).toBeCloseTo(2, 0);
    expect(hoursUntilDoubted(0.57)).toBeCloseTo(6, 0);
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
