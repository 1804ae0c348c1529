import type { AlarmState } from '../../../shared/alarm.js';

/** What can happen to an alarm. `release-*` ends shelving, suppression or out-of-service, by the condition then. */
export type AlarmEvent =
  | 'condition-on'
  | 'condition-off'
  | 'acknowledge'
  | 'shelve'
  | 'suppress'
  | 'take-out-of-service'
  | 'release-active'
  | 'release-clear';

type Row = Readonly<Partial<Record<AlarmEvent, AlarmState>>>;

const setAside: Row = {
  shelve: 'shelved',
  suppress: 'suppressed-by-design',
  'take-out-of-service': 'out-of-service',
};
const released: Row = { 'release-active': 'unacknowledged', 'release-clear': 'normal' };

/** The states and transitions of ANSI/ISA-18.2 (IEC 62682), figure "alarm state transition diagram". */
const transitions: Readonly<Record<AlarmState, Row>> = {
  normal: { 'condition-on': 'unacknowledged', ...setAside },
  unacknowledged: {
    acknowledge: 'acknowledged',
    'condition-off': 'returned-to-normal-unacknowledged',
    ...setAside,
  },
  acknowledged: { 'condition-off': 'normal', ...setAside },
  'returned-to-normal-unacknowledged': {
    acknowledge: 'normal',
    'condition-on': 'unacknowledged',
    ...setAside,
  },
  shelved: released,
  'suppressed-by-design': released,
  'out-of-service': released,
};

/** The state after an event; undefined when the event means nothing in this state. */
export function nextAlarmState(state: AlarmState, event: AlarmEvent): AlarmState | undefined {
  return transitions[state][event];
}

/** True for shelved, suppressed by design and out of service: the condition is watched but says nothing. */
export function isSetAside(state: AlarmState): boolean {
  return transitions[state]['release-clear'] !== undefined;
}
