import type { AlarmTransition } from '../../../shared/facts/alarm.js';
import type { CallMessage } from '../../../shared/wire/messages.js';
import type { ToldCall } from '../../watering/sentences/said/told.js';

/** A call as it waits in the outbox. */
export type WaitingCall = ToldCall & Pick<CallMessage, 'id' | 'over'>;

/** True when after this transition nobody need be called any more. */
export function endsCall(transition: AlarmTransition): boolean {
  return transition.state !== 'unacknowledged';
}

function concerns(call: ToldCall, transition: AlarmTransition): boolean {
  if (call.kind !== transition.kind) return false;
  if (transition.tray !== undefined) return call.trays.includes(transition.tray);
  if (call.trays.length > 0) return false;
  return transition.bench === undefined ? call.source === transition.source : call.bench === transition.bench;
}

type About = NonNullable<ToldCall['about']>;

/** A call that sums up several alarms, without the one that this transition ended. */
function summaryAfter(call: WaitingCall, about: About, transition: AlarmTransition): WaitingCall | undefined {
  const of = transition.tray ?? transition.bench ?? transition.source;
  const left = about.filter((one) => one.kind !== transition.kind || one.of !== of);
  const [first] = left;
  if (left.length === about.length) return undefined;
  if (first === undefined) return { ...call, over: true };
  const named = new Set(left.map((one) => one.of));
  return { ...call, kind: first.kind, trays: call.trays.filter((tray) => named.has(tray)), about: left };
}

/**
 * A call that waits for the broker, after this transition: without the tray that no longer needs it, or marked `over`
 * when none does. Undefined: the transition changes nothing about it.
 */
export function callAfter(call: WaitingCall, transition: AlarmTransition): WaitingCall | undefined {
  if (!endsCall(transition) || call.over === true) return undefined;
  if (call.about !== undefined) return summaryAfter(call, call.about, transition);
  if (!concerns(call, transition)) return undefined;
  const trays = call.trays.filter((tray) => tray !== transition.tray);
  return trays.length > 0 ? { ...call, trays } : { ...call, over: true };
}
