import type { AlarmTransition } from '../../shared/alarm.js';
import type { CallMessage } from '../../shared/messages.js';
import type { SaidCall } from '../watering/sentences/desk-sentences.js';
import { callAfter } from './call-truth.js';

/** Says a call in the farm's words. */
export type SayCall = (said: SaidCall) => string;

/** A call as it waits in the outbox: the message, and what its sentence rests on. */
export type WaitingCall = CallMessage & { readonly said?: SaidCall };

/** The call without what only the outbox needs. */
export function callMessage(payload: string): string {
  const { said: _, ...message } = JSON.parse(payload) as WaitingCall;
  return JSON.stringify(message);
}

/**
 * A waiting call after this transition: about the trays that are left, in a sentence about them alone, or marked `over`.
 * Undefined: the transition changes nothing about it.
 */
export function waitingCallAfter(
  call: WaitingCall,
  transition: AlarmTransition,
  say: SayCall,
): WaitingCall | undefined {
  const { said, ...message } = call;
  const after = callAfter(message, transition);
  if (after === undefined || said === undefined) return after;
  const left = { ...said, trays: said.trays.filter(({ id }) => after.trays.includes(id)) };
  return after.over === true ? { ...after, said } : { ...after, sentence: say(left), said: left };
}
