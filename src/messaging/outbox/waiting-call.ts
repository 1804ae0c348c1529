import type { AlarmTransition } from '../../../shared/facts/alarm.js';
import type { CallMessage } from '../../../shared/wire/messages.js';
import type { SaidCall } from '../../watering/sentences/said/desk-sentences.js';
import { callAfter, type WaitingCall } from './call-truth.js';

/** A summary about what is left of it. */
function saidAgain(said: SaidCall, about: NonNullable<CallMessage['about']>): SaidCall {
  const parts = (said.parts ?? []).flatMap((part): SaidCall[] => {
    const stands = (of: string): boolean => about.some((one) => one.kind === part.kind && one.of === of);
    const trays = part.trays.filter(({ id }) => stands(id));
    const [of, ...others] = [part.of, ...part.others].filter(stands);
    return of === undefined ? [] : [{ ...part, trays, of, others }];
  });
  return { ...said, ...parts[0], parts };
}

/**
 * A waiting call after this transition: about the trays that are left alone, or marked `over`.
 * Undefined: the transition changes nothing about it.
 */
export function waitingCallAfter(call: WaitingCall, transition: AlarmTransition): WaitingCall | undefined {
  const { said } = call;
  const after = callAfter(call, transition);
  if (after === undefined || said === undefined || after.over === true) return after;
  if (after.about !== undefined) return { ...after, said: saidAgain(said, after.about) };
  return { ...after, said: { ...said, trays: said.trays.filter(({ id }) => after.trays.includes(id)) } };
}
