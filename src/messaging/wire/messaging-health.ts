import type { Said } from '../../watering/sentences/said/said.js';
/** What the outbox and the readings say beside the troubles. */
export interface HealthCounts {
  readonly waiting: number;
  readonly dropped: number;
  readonly untoldReadings: number;
}

/** What may be wrong with a way out beside the broker: a webhook, or the push service of a phone. */
export type GatewayTrouble = `${GatewayKind}-away` | `${GatewayKind}-refused`;
export type GatewayKind = 'webhook' | 'push';

/** One thing that may be wrong, with its stable code. */
export interface MessagingTrouble {
  readonly code: 'away' | 'twin' | 'withheld' | 'not-kept' | GatewayTrouble;
  /** What is wrong and what to do; undefined: nothing. */
  readonly sentence: string | undefined;
}

/** Health in one sentence: every trouble with what to do, then what waits or was given up. */
export function messagingHealth(
  troubles: readonly MessagingTrouble[],
  { waiting, dropped, untoldReadings }: HealthCounts,
): { readonly ok: boolean; readonly reason: string; readonly own?: Said } {
  const real = troubles.filter(({ sentence }) => sentence !== undefined);
  const [first] = real;
  if (first === undefined) return { ok: true, reason: 'ok' };
  const counts = [
    waiting === 1 ? '1 message waits' : waiting > 1 ? `${waiting} messages wait` : '',
    dropped > 0 ? `the oldest ${dropped} were given up` : '',
    untoldReadings > 0 ? `${untoldReadings} readings were not told` : '',
  ].filter((count) => count !== '');
  const sentence = [...real.map((trouble) => trouble.sentence), ...counts].join('; ');
  return { ok: false, reason: first.code, own: ['asItIs', sentence] };
}

/** Messages that stand behind the others since the broker ends the connection on them. */
export function hangUpTrouble(
  aside: { readonly count: number; readonly topic: string } | undefined,
  { address, farm }: { readonly address: string; readonly farm: string },
): MessagingTrouble {
  if (aside === undefined) return { code: 'withheld', sentence: undefined };
  const { count, topic } = aside;
  const which = count === 1 ? `what is said at ${topic}` : `${count} messages, the first at ${topic}`;
  return {
    code: 'withheld',
    sentence: `the broker ${address} hangs up on ${which}; the others go ahead. Allow this user to write drybell/${farm}/#, and look at its limit of size`,
  };
}
