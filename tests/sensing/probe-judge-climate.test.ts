import { describe, expect, it } from 'vitest';
import { createProbeJudge } from '../../src/sensing/probe-judge.js';
import {
  flagged,
  HOUR_MS,
  HUMIDITY,
  LIGHT,
  MINUTE_MS,
  run,
  START_MS,
  TEMPERATURE,
  WEIGHT,
} from './judge-bench.js';

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

  it('light: a dark night of any length is no fault, a constant glow of two days is', () => {
    const dark = Array.from({ length: 40 * 4 }, () => 0);
    expect(flagged(run(createProbeJudge(LIGHT), dark, 15 * MINUTE_MS))).toEqual([]);
    const glow = Array.from({ length: 40 * 4 }, () => 4200);
    expect(run(createProbeJudge(LIGHT), glow, 15 * MINUTE_MS).at(-1)?.flag).toBe(3);
  });

  it('tray weight: pouring and tipping out each wait for one reading, a lifted tray is suspect and its return is not', () => {
    const tray = (grams: number, count: number) => Array.from({ length: count }, (_, i) => grams - i * 0.5);
    const values = [...tray(1900, 30), ...tray(2600, 20), ...tray(2400, 30)];
    const seen = run(createProbeJudge(WEIGHT), values, MINUTE_MS);
    expect(flagged(seen).map(({ reasons }) => reasons)).toEqual([['rise-unconfirmed'], ['spike']]);
    const lifted = [...tray(2400, 20), 3, 2, ...tray(2385, 20)];
    const seenLift = run(createProbeJudge(WEIGHT), lifted, MINUTE_MS);
    expect(seenLift.flatMap(({ flag }, i) => (flag === 1 ? [] : [i]))).toEqual([20, 21]);
  });
});

describe('probes that stand still', () => {
  it('air temperature in whole degrees may stand still for a night, not for two days', () => {
    const still = Array.from({ length: 48 * 4 }, () => 9);
    const seen = run(createProbeJudge(TEMPERATURE), still, 15 * MINUTE_MS);
    expect(flagged(seen.slice(0, 36 * 4))).toEqual([]);
    expect(seen.at(-1)).toMatchObject({ flag: 3, reasons: ['flat-line'] });
  });

  it('a tray lighter than the tray alone is a lifted tray, and fails', () => {
    const judge = createProbeJudge({ id: 'scale-t1', kind: 'tray-weight', emptyTrayG: 640 });
    expect(judge.judge(START_MS, 2100).flag).toBe(1);
    expect(judge.judge(START_MS + MINUTE_MS, 2)).toMatchObject({ flag: 4, reasons: ['gross-range'] });
    expect(judge.judge(START_MS + 2 * MINUTE_MS, 2098).flag).toBe(1);
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
