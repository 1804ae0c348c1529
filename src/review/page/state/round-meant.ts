import type { PagePresent } from '../../../../shared/page-present.js';
import type { TrayStanding } from './tray-standing.js';

/** The round that the headline speaks of. */
export interface RoundMeant {
  /** Epoch ms; undefined where no round is known. */
  readonly roundMs: number | undefined;
  /** Whether that is the round of the newest notice. A round that is over is meant until its trays are watered. */
  readonly isOfNotice: boolean;
  /** The round that the newest notice was for, epoch ms. */
  readonly noticeRoundMs: number | undefined;
}

export function roundMeant(
  present: PagePresent,
  standings: readonly TrayStanding[],
  nowMs: number,
): RoundMeant {
  const { notice } = present;
  const nextMs = present.nextRounds.map((round) => Date.parse(round)).find((round) => round > nowMs);
  if (notice === undefined) return { roundMs: nextMs, isOfNotice: false, noticeRoundMs: undefined };
  const noticeRoundMs = Date.parse(notice.round);
  const open = new Set(standings.filter(({ standing }) => standing !== 'waits').map(({ tray }) => tray.id));
  const isOfNotice = noticeRoundMs > nowMs || notice.due.some(({ tray }) => open.has(tray));
  return { roundMs: isOfNotice ? noticeRoundMs : nextMs, isOfNotice, noticeRoundMs };
}
