import { MS_PER_MIN } from '../../../shared/base/time-units.js';
import type { Desk } from '../desk/desk.js';

/** Two decisions that agree raise an alarm: those that an absence brings up have stood up within this time. */
const BROUGHT_UP_WITHIN_MS = 30 * MS_PER_MIN;

/**
 * Skipped rounds bring up alarms about trays that the answer to "away" has just named. That answer was the call about them: they
 * wait to be seen, and people are called again when they get worse, as after any call.
 */
export function countNamedAtLeaving(desk: Desk, nowMs: number): void {
  const { leaving } = desk.state;
  if (leaving === undefined) return;
  if (nowMs - leaving.atMs > BROUGHT_UP_WITHIN_MS) {
    desk.state.leaving = undefined;
    return;
  }
  for (const record of desk.state.alarms.values()) {
    const isNamed = record.kind === 'refill' && leaving.named.includes(record.of);
    if (!isNamed || record.state !== 'unacknowledged' || record.callCount > 0) continue;
    record.callCount = 1;
    record.calledAtMs = leaving.atMs;
    record.calledSeverity = record.severity;
  }
}
