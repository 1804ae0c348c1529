import { performance } from 'node:perf_hooks';
import { setTimeout as delay } from 'node:timers/promises';
import type { Clock } from '../../monitor/ports/ports.js';

/**
 * Real time for serial time-outs and retries. Readings are stamped, and settling is timed, by the clock that the caller
 * injects; a cable does not get faster when a demo's clock does.
 */
export const ioClock: Clock = {
  nowMs: () => Date.now(),
  monotonicMs: () => performance.now(),
  sleep: (ms, signal) => delay(ms, undefined, signal === undefined ? {} : { signal }),
};
