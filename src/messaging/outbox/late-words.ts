/** A sentence that waited longer than this says when it is from. */
export const LATE_MS = 10 * 60_000;

/** Beyond it a weekday could be that of another week. */
const WEEK_MS = 6 * 86_400_000;

/** A way by which people are told, as it stands in a sentence: "the broker", "the webhook \"sms\"". */
export type WayName = string;

/**
 * The sentence for a lock screen, with the time of day it is from and the way that held it up.
 * @param toldAtMs and nowMs on the wall clock
 */
export function lateWords(
  sentence: string,
  way: WayName,
  toldAtMs: number,
  nowMs: number,
  timeZone: string,
): string {
  if (nowMs - toldAtMs < LATE_MS) return sentence;
  const isThisWeek = nowMs - toldAtMs < WEEK_MS;
  const time = new Intl.DateTimeFormat('en-GB', {
    timeZone,
    weekday: 'short',
    hour: '2-digit',
    minute: '2-digit',
    ...(isThisWeek ? {} : { day: 'numeric', month: 'short' }),
  }).format(toldAtMs);
  return `From ${time}, held up at ${way}: ${sentence}`;
}
