import { performance } from 'node:perf_hooks';
import { setTimeout as sleepFor } from 'node:timers/promises';
import type { Clock } from '../../monitor/ports/ports.js';

export interface FastClockOptions {
  /** Farm time at the start, epoch ms. */
  readonly startMs: number;
  /** Farm seconds per real second, above 0. */
  readonly speed: number;
}

/** A fast clock that stands still until it is told to begin. */
export interface FastClock extends Clock {
  begin(): void;
}

/** Farm time that runs `speed` times as fast as the real one, from `begin` on; before, it stands at `startMs`. */
export function createFastClock({ startMs, speed }: FastClockOptions): FastClock {
  if (!(speed > 0 && Number.isFinite(speed))) throw new RangeError(`speed must be above 0, got ${speed}`);
  let begunMs: number | undefined;
  const elapsedMs = (): number => (begunMs === undefined ? 0 : (performance.now() - begunMs) * speed);
  return {
    begin: () => {
      begunMs ??= performance.now();
    },
    nowMs: () => Math.round(startMs + elapsedMs()),
    monotonicMs: elapsedMs,
    sleep: async (ms, signal) => {
      await sleepFor(Math.max(0, ms) / speed, undefined, signal === undefined ? {} : { signal });
    },
  };
}
