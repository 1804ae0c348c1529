import { describe, expect, it } from 'vitest';
import type { TrayEvent } from '../../shared/facts/tray-life.js';
import type { ProbeSample } from '../../src/monitor/ports/ports.js';
import {
  DEMO_DUE_FIRST,
  DEMO_START_MS,
  demoFarmConfig,
  demoFarmPlan,
} from '../../src/worlds/demo/demo-farm.js';
import { playDemoPast } from '../../src/worlds/demo/demo-past.js';
import { createVirtualBench } from '../../src/worlds/demo/virtual-bench/virtual-bench.js';

const HOUR_MS = 3_600_000;

describe('the days before the demo', () => {
  it('are read and watered in the order of time, and leave one mini tray to be due on the first morning', () => {
    const startMs = DEMO_START_MS - 24 * HOUR_MS;
    const plan = demoFarmPlan(startMs);
    const config = demoFarmConfig(plan);
    const bench = createVirtualBench(plan);
    const samples: ProbeSample[] = [];
    const events: TrayEvent[] = [];
    let nowMs = startMs - 1;
    const past = playDemoPast({
      bench,
      config,
      pipeline: {
        advanceTo: (toMs) => {
          expect(toMs).toBeGreaterThanOrEqual(nowMs);
          nowMs = toMs;
        },
        sample: (sample) => samples.push(sample),
        trayEvent: (event) => events.push(event),
        takeFacts: () => [],
      },
      toMs: DEMO_START_MS,
      roundsMs: [startMs + 2 * HOUR_MS, startMs + 13 * HOUR_MS],
      partlyLast: DEMO_DUE_FIRST,
    });
    const turns = [...past].length;
    expect(turns).toBeGreaterThan(20);
    expect(samples).toHaveLength(24 * 4 * config.probes.length);
    expect(samples.every(({ observedAtMs }) => observedAtMs < DEMO_START_MS)).toBe(true);
    const last = events.filter(({ tray }) => DEMO_DUE_FIRST.includes(tray)).at(-1);
    expect(last).toMatchObject({ event: 'watered', ml: expect.any(Number) });
    const index = (tray: string): number => bench.truth(tray).moistureIndex;
    for (const tray of DEMO_DUE_FIRST) expect(index(tray)).toBeLessThan(0.6);
    for (const { id } of config.trays) expect(index(id)).toBeGreaterThan(0.1);
  });
});
