import { shiftedInstants } from '../../../../shared/base/shifted-instants.js';
import { shiftSnapshot, toldUntilMs } from '../../../drying/whole/shift-snapshot.js';

/** A state dated later than this after the present comes from a clock that was ahead. */
const AHEAD_MS = 60_000;

interface SavedStates {
  readonly desk: unknown;
  readonly model: unknown;
}

/** States as they were saved, dated anew where the clock had been ahead and was set back while the house was off, by `wentBackMs`. */
export function datedNow(
  { desk, model }: SavedStates,
  nowMs: number,
): SavedStates & { readonly wentBackMs: number } {
  const aheadMs = (toldUntilMs(model) ?? 0) - nowMs;
  if (aheadMs <= AHEAD_MS) return { desk, model, wentBackMs: 0 };
  return {
    desk: shiftedInstants(desk, -aheadMs),
    model: shiftSnapshot(model, -aheadMs),
    wentBackMs: aheadMs,
  };
}
