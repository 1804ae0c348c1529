import { MS_PER_MIN } from '../../../shared/base/time-units.js';
import type { FarmSpeech } from '../../watering/sentences/speech.js';

/** A sentence that waited longer than this says when it is from. */
export const LATE_MS = 10 * MS_PER_MIN;

/** What held a sentence up: the broker, a webhook by its id, or the push service of a phone. */
export interface Way {
  readonly webhook?: string | undefined;
  readonly phone?: true | undefined;
}

/**
 * The sentence for a lock screen, with the time of day it is from and the way that held it up.
 * @param toldAtMs and nowMs on the wall clock
 */
export function lateWords(
  sentence: string,
  way: Way,
  toldAtMs: number,
  nowMs: number,
  { words, say }: FarmSpeech,
): string {
  if (nowMs - toldAtMs < LATE_MS) return sentence;
  return say.house.late(sentence, words.weekdayTime(toldAtMs, nowMs), way);
}
