import { setTimeout as sleepFor } from 'node:timers/promises';
import type { Clock } from '../../monitor/ports/ports.js';

/** The machine's clock: wall time for stamps, monotonic time for measuring. */
export const realClock: Clock = {
  nowMs: () => Date.now(),
  monotonicMs: () => performance.now(),
  sleep: (ms, signal) => sleepFor(ms, undefined, signal === undefined ? {} : { signal }),
};
