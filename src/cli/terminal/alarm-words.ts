import type { AlarmState } from '../../../shared/facts/alarm.js';

/** Plain words for the standard's states. */
export const STATE_WORDS: Readonly<Record<AlarmState, string>> = {
  normal: 'done',
  unacknowledged: 'CALL',
  acknowledged: 'seen',
  'returned-to-normal-unacknowledged': 'over, not seen',
  shelved: 'later',
  'suppressed-by-design': 'quiet',
  'out-of-service': 'off',
};
