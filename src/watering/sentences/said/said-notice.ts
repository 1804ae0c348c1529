import type { RoundNotice } from '../../../../shared/facts/round-notice.js';
import type { SaidNotice } from './desk-sentences.js';

/** What a notice's sentence rests on, from the notice itself: it can be said again at `nowMs`. */
export function saidNotice({ round, due, canWait, awayUntil }: RoundNotice, nowMs: number): SaidNotice {
  return {
    nowMs,
    roundMs: Date.parse(round),
    due: due.map(({ tray, bench, blockSideMm, dryAt, ...line }) => ({
      ...line,
      id: tray,
      benchId: bench ?? '',
      blockSideMm: blockSideMm ?? 0,
      dryAtMs: dryAt === undefined ? undefined : Date.parse(dryAt),
    })),
    waiting: canWait.map(({ tray, untilRound }) => ({ trayId: tray, untilRoundMs: Date.parse(untilRound) })),
    awayUntilMs: awayUntil === undefined ? undefined : Date.parse(awayUntil),
  };
}
