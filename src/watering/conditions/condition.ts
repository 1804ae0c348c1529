import type { AlarmKind } from '../../../shared/facts/alarm.js';
import type { AlarmDelays, RawCondition } from '../desk/alarm-record.js';
import { MS_PER_HOUR, MS_PER_MIN } from '../desk/desk.js';
import type { Said } from '../sentences/said/said.js';

/** What a rule says about one tray, bench or source at one moment. */
export interface Condition {
  readonly kind: AlarmKind;
  readonly of: string;
  readonly raw: RawCondition;
  /** Stable code of the rule that speaks. */
  readonly reason: string;
  /** How bad, rising; only compared with the same kind. */
  readonly severity: number;
  /** True where the design of the house says that this is no alarm now (wet under a cover). */
  readonly suppressed?: boolean | undefined;
  /** What a part of the watchman says of itself. */
  readonly own?: Said | undefined;
}

/**
 * On- and off-delays. Readings come every minute and decisions every few minutes: an on-delay above zero asks for two decisions
 * that agree. refill and dry end with the watering; their off-delay is for a forecast that has clearly turned.
 */
export const alarmDelays: Readonly<Record<AlarmKind, AlarmDelays>> = {
  refill: { onDelayMs: 4 * MS_PER_MIN, offDelayMs: 3 * MS_PER_HOUR },
  dry: { onDelayMs: 4 * MS_PER_MIN, offDelayMs: 3 * MS_PER_HOUR },
  wet: { onDelayMs: 0, offDelayMs: MS_PER_HOUR },
  cover: { onDelayMs: 0, offDelayMs: 0 },
  temperature: { onDelayMs: 10 * MS_PER_MIN, offDelayMs: 10 * MS_PER_MIN },
  probe: { onDelayMs: 10 * MS_PER_MIN, offDelayMs: 10 * MS_PER_MIN },
  board: { onDelayMs: 2 * MS_PER_MIN, offDelayMs: 5 * MS_PER_MIN },
  monitor: { onDelayMs: 0, offDelayMs: 5 * MS_PER_MIN },
  store: { onDelayMs: 2 * MS_PER_MIN, offDelayMs: 5 * MS_PER_MIN },
  broker: { onDelayMs: 5 * MS_PER_MIN, offDelayMs: 5 * MS_PER_MIN },
};
