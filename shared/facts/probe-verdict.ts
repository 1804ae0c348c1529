import { PROBE_TROUBLES, type ProbeTrouble } from './probe-trouble.js';
import type { Flag } from './reading.js';
import { isBelieved } from './reading-belief.js';

/** Why a probe is not believed to tell the truth: what the judge found in its readings, or what the model holds against it. */
export const PROBE_DOUBTS = [
  ...PROBE_TROUBLES,
  'not-heard',
  'no-answer',
  'odd-reading',
  'contradicts',
] as const;
export type ProbeDoubt = (typeof PROBE_DOUBTS)[number];

/** The one verdict on a probe, the same wherever it is said. `reason` is empty where it is believed. */
export type ProbeVerdict =
  | { readonly ok: true; readonly reason: '' }
  | { readonly ok: false; readonly reason: ProbeDoubt };

/** What bears on whether a probe tells the truth. */
export interface ProbeSigns {
  /** The judge's finding, undefined or empty where it found nothing. */
  readonly trouble: ProbeTrouble | undefined;
  /** It has been heard within living memory: a reading, or word of its node. */
  readonly isHeard: boolean;
  /** Flag and reasons of its newest reading, where one is known. */
  readonly newest?: { readonly flag: Flag; readonly flagReasons: readonly string[] } | undefined;
  /** For how long its readings have been more than the model can follow, h; 0 while they fit. */
  readonly contradictedH: number;
}

/** So long may a tray be watered, look or weigh otherwise than it should before its probe is doubted, h (judgement: the model's own patience). */
export const CONTRADICTS_AFTER_H = 3;

/** Whether a probe is believed to tell the truth, and if not, why: the judge's finding first, for it names what to mend. */
export function probeVerdict({ trouble, isHeard, newest, contradictedH }: ProbeSigns): ProbeVerdict {
  if (trouble !== undefined) return { ok: false, reason: trouble };
  if (!isHeard) return { ok: false, reason: 'not-heard' };
  if (newest?.flag === 9) return { ok: false, reason: 'no-answer' };
  if (newest !== undefined && !isBelieved(newest.flag, newest.flagReasons))
    return { ok: false, reason: 'odd-reading' };
  if (contradictedH >= CONTRADICTS_AFTER_H) return { ok: false, reason: 'contradicts' };
  return { ok: true, reason: '' };
}

/** The judge's code as a trouble; undefined for its "ok". A monitor that hears no probe at all hears none of them. */
export function troubleOf(reason: string): ProbeTrouble | undefined {
  return reason === 'monitor-blind' ? 'silent' : PROBE_TROUBLES.find((trouble) => trouble === reason);
}

/** English for "probe …", the same on page, command line and in messages. */
export const englishDoubts: Readonly<Record<ProbeDoubt, string>> = {
  silent: 'has sent nothing',
  'out-of-range': 'has read what cannot be',
  'flat-line': 'has been stuck at one value',
  noisy: 'has jumped up and down',
  contradicts: 'contradicts what its tray can have done',
  'not-heard': 'has not been heard yet',
  'no-answer': 'gave no answer when it was last asked',
  'odd-reading': 'has just read what does not count',
};
