import type { Flag } from '../../shared/reading.js';

/** What the quality tests say of one reading. */
export interface Judgement {
  readonly flag: Flag;
  /** The tests that did not pass; empty on flag 1. */
  readonly reasons: readonly string[];
  readonly waterContentM3PerM3: number | undefined;
  readonly calibrationId: string | undefined;
}

/** Judges one probe's readings as they come, without looking ahead. */
export interface ReadingJudge {
  judge(observedAtMs: number, rawValue: number | undefined): Judgement;
  /** Can this probe be trusted now? The reason is a stable code such as "silent" or "flat-line". */
  health(nowMs: number): { readonly ok: boolean; readonly reason: string };
}
