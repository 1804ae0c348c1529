import type { AlarmState } from '../../../shared/facts/alarm.js';

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

/**
 * The states on the shortest way from one state to another, the last one included; to itself by way of others. Every state can be
 * reached from every other.
 */
export function wayBetween(from: AlarmState, to: AlarmState): readonly AlarmState[] {
  const ways: (readonly AlarmState[])[] = [[]];
  const seen = new Set<AlarmState>();
  for (let way = ways.shift(); way !== undefined; way = ways.shift()) {
    const at = way.at(-1) ?? from;
    if (at === to && way.length > 0) return way;
    if (seen.has(at) && way.length > 0) continue;
    seen.add(at);
    for (const next of Object.values(transitions[at])) ways.push([...way, next]);
  }
  throw new RangeError(`no way from ${from} to ${to}`);
}
