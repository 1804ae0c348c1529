import { describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import { farmConfigSchema } from '../../shared/config/farm.js';
import { createProbeReader } from '../../src/board/station/probe-reader.js';
import type { Fact } from '../../src/monitor/ports/facts.js';
import { DEMO_START_MS, demoFarmConfig, demoFarmPlan } from '../../src/worlds/demo/demo-farm.js';
import { createDemoGrower } from '../../src/worlds/demo/demo-grower.js';
import { createFastClock } from '../../src/worlds/demo/fast-clock.js';
import { virtualBoardOpener } from '../../src/worlds/demo/open-virtual-board.js';
import { createVirtualBench } from '../../src/worlds/demo/virtual-bench/virtual-bench.js';
import { createBenchHistory } from '../benchmark/bench-history.js';

const HOUR_MS = 3_600_000;

describe('demo farm', () => {
  it('is a configuration that parses again, with the three common sizes, probed and unprobed trays', () => {
    const config = demoFarmConfig();
    expect(farmConfigSchema.parse(JSON.parse(JSON.stringify(config)))).toEqual(config);
    expect(new Set(config.trays.map((tray) => tray.blockSideMm))).toEqual(new Set([19, 38, 51]));
    const probed = config.probes.flatMap((probe) => ('tray' in probe ? [probe.tray] : []));
    expect(probed.length).toBeGreaterThan(2);
    expect(probed.length).toBeLessThan(config.trays.length);
  });

  it('has minis that go dry between the missed morning round and the evening one', () => {
    const bench = createVirtualBench(demoFarmPlan());
    const history = createBenchHistory(bench);
    bench.observe(history);
    bench.step(DEMO_START_MS + 48 * HOUR_MS);
    const firstDryH = Math.min(
      ...['celery-1', 'lettuce-1'].map((tray) => history.dryOut(tray, DEMO_START_MS).driestTenthH ?? 999),
    );
    // the demo starts at 05:00: the missed round is at 2 h, the next one at 13 h
    expect(firstDryH).toBeGreaterThan(5);
    expect(firstDryH).toBeLessThan(12);
  });

  it('is read through the real board code, value for value what its bench says', async () => {
    const plan = demoFarmPlan();
    const config = demoFarmConfig(plan);
    const bench = createVirtualBench(plan);
    const nowMs = DEMO_START_MS + 7 * HOUR_MS;
    const clock = { ...createFastClock({ startMs: nowMs, speed: 1000 }), nowMs: () => nowMs };
    const reader = createProbeReader({
      boards: config.boards,
      probes: config.probes,
      clock,
      openTransport: virtualBoardOpener(bench, config.probes, clock.nowMs),
      random: () => 0.5,
    });
    try {
      const signal = new AbortController().signal;
      const values = new Map<string, number>();
      while (values.size < config.probes.length) {
        for (const { probeId, rawValue } of await reader.sample(signal))
          if (rawValue !== undefined) values.set(probeId, rawValue);
        await clock.sleep(10_000);
      }
      const air = bench.air('south');
      expect(Math.abs((values.get('temp-south') ?? 0) - air.temperatureC)).toBeLessThan(5);
      expect(Math.abs((values.get('temp-north') ?? 0) - bench.air('north').temperatureC)).toBeLessThan(5);
      expect(values.get('light-south')).toBeGreaterThan(1000);
      for (const probe of plan.moistureProbes) {
        expect(values.get(probe.id)).toBeGreaterThan(probe.soakedVolts);
        expect(values.get(probe.id)).toBeLessThan(probe.dryVolts);
      }
    } finally {
      await reader.close();
    }
  });
});

describe('demo grower', () => {
  const roundMs = DEMO_START_MS + 2 * HOUR_MS;
  const notice = (atRoundMs: number): Fact => ({
    kind: 'round-notice',
    notice: {
      at: toInstant(atRoundMs - 75 * 60_000),
      round: toInstant(atRoundMs),
      due: [{ tray: 'celery-1', doseMl: 300 }],
      canWait: [],
    },
  });

  it('misses the first round that lists a tray, comes when called, and keeps the next round', () => {
    const bench = createVirtualBench(demoFarmPlan());
    const grower = createDemoGrower({ bench, lateOnce: true });
    grower.hear([notice(roundMs)]);
    expect(grower.work(roundMs + HOUR_MS)).toEqual([]);

    const calledAtMs = roundMs + 2 * HOUR_MS;
    const at = toInstant(calledAtMs);
    const trays = ['celery-1'];
    const sentence = 'Bench south: celery-1 will not last until the 18:00 round.';
    grower.hear([{ kind: 'call', call: { at, kind: 'refill', trays, again: false, sentence } }]);
    expect(grower.work(calledAtMs)).toEqual([]);
    const before = bench.truth('celery-1').waterContentM3PerM3;
    expect(grower.work(calledAtMs + HOUR_MS)).toEqual([{ do: 'watered', tray: 'celery-1', by: 'jo' }]);
    bench.step(calledAtMs + 4 * HOUR_MS);
    expect(bench.truth('celery-1').waterContentM3PerM3).toBeGreaterThan(before + 0.05);

    const eveningMs = roundMs + 11 * HOUR_MS;
    grower.hear([notice(eveningMs)]);
    expect(grower.work(eveningMs - 1)).toEqual([]);
    expect(grower.work(eveningMs)).toHaveLength(1);
  });

  it('puts no more into a tray at one visit than that holds', () => {
    const at = toInstant(roundMs);
    const risen = [40, Number.POSITIVE_INFINITY].map((mostMl) => {
      const bench = createVirtualBench(demoFarmPlan());
      const grower = createDemoGrower({ bench, lateOnce: false, mostPourMl: () => mostMl });
      const trays = ['celery-1'];
      grower.hear([
        { kind: 'call', call: { at, kind: 'refill', trays, again: false, sentence: 'One tray.' } },
      ]);
      bench.step(roundMs + HOUR_MS);
      const before = bench.truth('celery-1').missingMl;
      grower.work(roundMs + HOUR_MS);
      bench.step(roundMs + 3 * HOUR_MS);
      return before - bench.truth('celery-1').missingMl;
    });
    expect(risen[0]).toBeLessThanOrEqual(40);
    expect(risen[1]).toBeGreaterThan(100);
  });

  it('leaves a tray that was entered by command to whoever entered it', () => {
    const grower = createDemoGrower({ bench: createVirtualBench(demoFarmPlan()), lateOnce: false });
    const at = toInstant(roundMs);
    const trays = ['celery-2', 'celery-1'];
    grower.hear([
      { kind: 'call', call: { at, kind: 'refill', trays, again: false, sentence: 'Two trays.' } },
    ]);
    expect(grower.work(roundMs + HOUR_MS)).toEqual([{ do: 'watered', tray: 'celery-1', by: 'jo' }]);
  });
});

describe('fast clock', () => {
  it('runs at its speed and ends a sleep when told to', async () => {
    const clock = createFastClock({ startMs: DEMO_START_MS, speed: 100_000 });
    expect(clock.nowMs()).toBe(DEMO_START_MS);
    clock.begin();
    const before = clock.monotonicMs();
    await clock.sleep(1_000_000);
    expect(clock.monotonicMs() - before).toBeGreaterThanOrEqual(900_000);
    expect(clock.nowMs()).toBeGreaterThan(DEMO_START_MS);
    const controller = new AbortController();
    const asleep = clock.sleep(1e12, controller.signal);
    controller.abort();
    await expect(asleep).rejects.toThrow();
    expect(() => createFastClock({ startMs: 0, speed: 0 })).toThrow(RangeError);
  });
});
