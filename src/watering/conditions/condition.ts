import { MS_PER_HOUR, MS_PER_MIN } from '../../../shared/base/time-units.js';
import type { AlarmKind } from '../../../shared/facts/alarm.js';
import type { AlarmDelays, RawCondition } from '../desk/alarm-record.js';
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
const WATER: AlarmDelays = { onDelayMs: 4 * MS_PER_MIN, offDelayMs: 3 * MS_PER_HOUR };
const MEASURED_MS = 10 * MS_PER_MIN;
const MEASURED: AlarmDelays = { onDelayMs: MEASURED_MS, offDelayMs: MEASURED_MS };
const PART_OFF_MS = 5 * MS_PER_MIN;
const PART: AlarmDelays = { onDelayMs: 2 * MS_PER_MIN, offDelayMs: PART_OFF_MS };

export const alarmDelays: Readonly<Record<AlarmKind, AlarmDelays>> = {
  refill: WATER,
  dry: WATER,
  wet: { onDelayMs: 0, offDelayMs: MS_PER_HOUR },
  cover: { onDelayMs: 0, offDelayMs: 0 },
  temperature: MEASURED,
  probe: MEASURED,
  board: PART,
  monitor: { onDelayMs: 0, offDelayMs: PART_OFF_MS },
  store: PART,
  broker: { onDelayMs: PART_OFF_MS, offDelayMs: PART_OFF_MS },
};
