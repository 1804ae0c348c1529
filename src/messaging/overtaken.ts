import type { AlarmTransition } from '../../shared/alarm.js';
import type { Outbox, WaitingMessage } from './outbox.js';
import { type SayCall, type WaitingCall, waitingCallAfter } from './waiting-call.js';

/** A test call that waited longer tells nobody anything. */
const TEST_LIFE_MS = 10 * 60_000;

function changesOf(
  waiting: readonly WaitingMessage[],
  nowMs: number,
  say: SayCall,
): ReadonlyMap<number, string | null> {
  const changes = new Map<number, string | null>();
  const calls: { seq: number; call: WaitingCall }[] = [];
  const said = new Map<string, number>();
  let lastNotice: number | undefined;
  for (const { seq, id, kind, payload, queuedAtMs } of waiting) {
    if (kind === 'test-call' || kind === 'say-test') {
      if (nowMs - queuedAtMs > TEST_LIFE_MS) changes.set(seq, null);
    } else if (kind === 'call') calls.push({ seq, call: JSON.parse(payload) as WaitingCall });
    else if (kind === 'say-call') said.set(id, seq);
    else if (kind === 'say-round') {
      if (lastNotice !== undefined) changes.set(lastNotice, null);
      lastNotice = seq;
    } else if (kind === 'alarm') {
      const transition = JSON.parse(payload) as AlarmTransition;
      for (const waitingCall of calls) {
        const call = waitingCallAfter(waitingCall.call, transition, say);
        if (call === undefined) continue;
        waitingCall.call = call;
        changes.set(waitingCall.seq, JSON.stringify(call));
        const sentence = said.get(call.id);
        if (sentence !== undefined) changes.set(sentence, call.over === true ? null : call.sentence);
      }
    }
  }
  return changes;
}

/**
 * What events overtook while nothing could be sent: a call that a later transition made untrue is marked `over` and
 * its sentence dropped, one that became untrue for some trays is said again about the others; of several notices only the newest is said; a test call that is
 * no longer waited for is dropped. Records and alarm states stay, in order.
 * @param nowMs wall clock
 */
export function reviseOvertaken(outbox: Outbox, nowMs: number, say: SayCall): void {
  if (outbox.waitingCount > 0) outbox.revise(changesOf(outbox.next(0, outbox.waitingCount), nowMs, say));
}
