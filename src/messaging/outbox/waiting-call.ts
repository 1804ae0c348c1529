import type { AlarmTransition } from '../../../shared/facts/alarm.js';
import type { CallMessage } from '../../../shared/wire/messages.js';
import type { SaidCall } from '../../watering/sentences/said/desk-sentences.js';
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

/** A summary about what is left of it. */
function saidAgain(
  said: SaidCall,
  about: NonNullable<CallMessage['about']>,
  say: SayCall,
): Pick<WaitingCall, 'sentence'> & { readonly said: SaidCall } {
  const parts = (said.parts ?? []).flatMap((part): SaidCall[] => {
    const stands = (of: string): boolean => about.some((one) => one.kind === part.kind && one.of === of);
    const trays = part.trays.filter(({ id }) => stands(id));
    const [of, ...others] = [part.of, ...part.others].filter(stands);
    return of === undefined ? [] : [{ ...part, trays, of, others }];
  });
  const left = { ...said, ...parts[0], parts };
  return { sentence: say(left), said: left };
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
  if (after.over !== true && after.about !== undefined)
    return { ...after, ...saidAgain(said, after.about, say) };
  const left = { ...said, trays: said.trays.filter(({ id }) => after.trays.includes(id)) };
  return after.over === true ? { ...after, said } : { ...after, sentence: say(left), said: left };
}
