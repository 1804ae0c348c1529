import { performance } from 'node:perf_hooks';
import { setTimeout as sleepFor } from 'node:timers/promises';
import type { Clock } from '../monitor/ports.js';

export interface FastClockOptions {
  /** Farm time at the start, epoch ms. */
  readonly startMs: number;
  /** Farm seconds per real second, above 0. */
  readonly speed: number;
}

/** Farm time that runs `speed` times as fast as the real one, from the moment this is called. */
export function createFastClock({ startMs, speed }: FastClockOptions): Clock {
  if (!(speed > 0 && Number.isFinite(speed))) throw new RangeError(`speed must be above 0, got ${speed}`);
  const startedMs = performance.now();
  const elapsedMs = (): number => (performance.now() - startedMs) * speed;
  return {
    nowMs: () => Math.round(startMs + elapsedMs()),
    monotonicMs: elapsedMs,
    sleep: async (ms, signal) => {
      await sleepFor(Math.max(0, ms) / speed, undefined, signal === undefined ? {} : { signal });
    },
  };
}
