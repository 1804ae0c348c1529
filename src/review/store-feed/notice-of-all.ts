import type { RoundNotice } from '../../../shared/facts/round-notice.js';

/**
 * One notice out of those of several houses for the newest round of them all. A house may tell a round twice: for each tray
 * the newest word counts. Most urgent first, as far as the houses' own order tells: the trays that are dry soonest.
 */
export function noticeOfAll(notices: readonly RoundNotice[]): RoundNotice | undefined {
  const newest = notices.at(-1);
  if (newest === undefined) return undefined;
  const due = new Map<string, RoundNotice['due'][number]>();
  const canWait = new Map<string, RoundNotice['canWait'][number]>();
  const speaker = new Map<string, RoundNotice>();
  for (const notice of notices) {
    if (Date.parse(notice.round) !== Date.parse(newest.round)) continue;
    for (const tray of [...notice.due, ...notice.canWait].map((one) => one.tray)) {
      due.delete(tray);
      canWait.delete(tray);
      speaker.set(tray, notice);
    }
    for (const one of notice.due) due.set(one.tray, one);
    for (const one of notice.canWait) canWait.set(one.tray, one);
  }
  const heard = new Set(speaker.size === 0 ? [newest] : speaker.values());
  if (heard.size === 1) return newest;
  const sentences = [...heard].flatMap(({ sentence }) => sentence ?? []);
  const dryAtMs = ({ dryAt }: RoundNotice['due'][number]): number =>
    dryAt === undefined ? Number.MAX_SAFE_INTEGER : Date.parse(dryAt);
  return {
    at: newest.at,
    round: newest.round,
    due: [...due.values()].sort((a, b) => dryAtMs(a) - dryAtMs(b)),
    canWait: [...canWait.values()],
    ...(sentences.length === 0 ? {} : { sentence: sentences.join(' ') }),
  };
}
