/** A sentence that waited longer than this says when it is from. */
export const LATE_MS = 10 * 60_000;

/**
 * The sentence for a lock screen, with the time of day it is from when the broker was away in between.
 * @param toldAtMs and nowMs on the wall clock
 */
export function lateWords(sentence: string, toldAtMs: number, nowMs: number, timeZone: string): string {
  if (nowMs - toldAtMs < LATE_MS) return sentence;
  const time = new Intl.DateTimeFormat('en-GB', {
    timeZone,
    weekday: 'short',
    hour: '2-digit',
    minute: '2-digit',
  }).format(toldAtMs);
  return `From ${time}, held up because the broker was away: ${sentence}`;
}
