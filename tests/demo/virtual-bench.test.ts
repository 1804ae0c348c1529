import { describe, expect, it } from 'vitest';
import { createVirtualBench } from '../../src/worlds/demo/virtual-bench/virtual-bench.js';
import { createBenchHistory } from '../benchmark/bench-history.js';
import { plainBench, plainPlan, SPRING_MS } from './plain-bench.js';

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;

describe('virtual bench', () => {
  it('gives the same season for the same seed however it is stepped, and another for another', () => {
    const leap = plainBench(7);
    const crawl = plainBench(7);
    const other = plainBench(8);
    leap.step(SPRING_MS + DAY_MS);
    other.step(SPRING_MS + DAY_MS);
    for (let at = SPRING_MS; at <= SPRING_MS + DAY_MS; at += 10_000) crawl.step(at);
    expect(crawl.truth('t0')).toEqual(leap.truth('t0'));
    expect(other.truth('t0').waterContentM3PerM3).not.toBe(leap.truth('t0').waterContentM3PerM3);
  });

  it('dries minis first and the largest blocks last, the driest tenth before the mean', () => {
    for (const seed of [1, 2, 3, 4, 5]) {
      const bench = plainBench(seed);
      const history = createBenchHistory(bench);
      bench.observe(history);
      bench.step(SPRING_MS + 14 * DAY_MS);
      const hours = ['t0', 't1', 't2'].map((tray) => history.dryOut(tray, SPRING_MS + HOUR_MS));
      const [mini, middle, large] = hours.map((dry) => dry.meanBlockH ?? 14 * 24);
      expect(mini).toBeLessThan(middle ?? 0);
      expect(middle).toBeLessThan((large ?? 0) + 24);
      for (const dry of hours) expect(dry.driestTenthH ?? 0).toBeLessThanOrEqual(dry.meanBlockH ?? 999);
    }
  });

  it('keeps uncovered minis about a day in mild spring weather, as growers say (common practice)', () => {
    const days = Array.from({ length: 15 }, (_, seed) => {
      const bench = plainBench(seed + 100, 1);
      const history = createBenchHistory(bench);
      bench.observe(history);
      bench.step(SPRING_MS + 12 * DAY_MS);
      return (history.dryOut('t0', SPRING_MS + 7 * HOUR_MS).meanBlockH ?? 288) / 24;
    }).sort((a, b) => a - b);
    expect(days[7]).toBeGreaterThan(0.4);
    expect(days[7]).toBeLessThan(2.5);
  });

  it('says what would have happened without water as the untouched twin shows it', () => {
    const watered = plainBench(11);
    const untouched = plainBench(11);
    const history = createBenchHistory(watered);
    const truth = createBenchHistory(untouched);
    watered.observe(history);
    untouched.observe(truth);
    watered.step(SPRING_MS + 6 * HOUR_MS);
    watered.pour('t1', watered.truth('t1').missingMl, undefined);
    watered.step(SPRING_MS + 12 * DAY_MS);
    untouched.step(SPRING_MS + 12 * DAY_MS);
    const origin = SPRING_MS + 2 * HOUR_MS;
    const expected = truth.dryOut('t1', origin).meanBlockH ?? 0;
    expect(expected).toBeGreaterThan(6);
    // the twin's trays wet the air a little differently after the pour
    expect(Math.abs((history.dryOut('t1', origin).meanBlockH ?? 0) / expected - 1)).toBeLessThan(0.05);
  });

  it('takes up no more than was poured and no more than the blocks lack', () => {
    const bench = plainBench(3);
    bench.step(SPRING_MS + 2 * DAY_MS);
    const before = bench.truth('t1');
    const blocksMl = 72 * 3.8 ** 3;
    bench.pour('t1', 300, undefined);
    bench.step(SPRING_MS + 2 * DAY_MS + 2 * HOUR_MS);
    const risenMl = (bench.truth('t1').waterContentM3PerM3 - before.waterContentM3PerM3) * blocksMl;
    expect(risenMl).toBeGreaterThan(100);
    expect(risenMl).toBeLessThan(300);
    bench.pour('t1', 20_000, 8);
    bench.step(SPRING_MS + 3 * DAY_MS);
    expect(bench.truth('t1').moistureIndex).toBeLessThan(1.02);
  });

  it('sheds water once its blocks have gone too dry', () => {
    const wet = plainBench(5, 1);
    wet.step(SPRING_MS + 20 * DAY_MS);
    const lackingMl = wet.truth('t0').missingMl;
    wet.pour('t0', 5000, 1);
    wet.step(SPRING_MS + 20 * DAY_MS + 1.5 * HOUR_MS);
    expect(wet.truth('t0').missingMl).toBeGreaterThan(0.3 * lackingMl);
  });

  it('holds its probe faults to their time', () => {
    const plan = plainPlan(9);
    const fromMs = SPRING_MS + 6 * HOUR_MS;
    const toMs = SPRING_MS + 12 * HOUR_MS;
    const bench = createVirtualBench({
      ...plan,
      moistureProbes: plan.moistureProbes.map((probe) => ({
        ...probe,
        faults: [{ kind: 'stuck', fromMs, toMs }],
      })),
    });
    const values: (number | undefined)[] = [];
    for (let at = SPRING_MS; at < SPRING_MS + DAY_MS; at += 600_000) {
      bench.step(at);
      values.push(bench.readProbe('moist-t0'));
    }
    expect(new Set(values.slice(36, 72)).size).toBe(1);
    expect(new Set(values.slice(80)).size).toBeGreaterThan(5);
  });

  it('refuses to go back in time and to read a probe that it has not', () => {
    const bench = plainBench(1);
    bench.step(SPRING_MS + HOUR_MS);
    expect(() => bench.step(SPRING_MS)).toThrow(RangeError);
    expect(() => bench.readProbe('moist-t9')).toThrow(/no probe moist-t9/);
  });
});
