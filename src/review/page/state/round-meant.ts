import type { PagePresent } from '../../../../shared/page/page-present.js';
import type { TrayStanding } from './tray-standing.js';

/** The round that the headline speaks of. */
export interface RoundMeant {
  /** Epoch ms; undefined where no round is known. */
  readonly roundMs: number | undefined;
  /** Whether that is the round of the newest notice, coming or being walked. */
  readonly isOfNotice: boolean;
  /** The round of the notice is over, and some of its trays were not watered. */
  readonly isLeftOver: boolean;
  /** The round that the newest notice was for, epoch ms. */
  readonly noticeRoundMs: number | undefined;
}

/** A round is being walked for so long (judgement: forty trays at a minute and a half each). */
const WALK_MS = 3_600_000;

export function roundMeant(
  present: PagePresent,
  standings: readonly TrayStanding[],
  nowMs: number,
): RoundMeant {
  const { notice } = present;
  const nextMs = present.nextRounds.map((round) => Date.parse(round)).find((round) => round > nowMs);
  if (notice === undefined)
    return { roundMs: nextMs, isOfNotice: false, isLeftOver: false, noticeRoundMs: undefined };
  const noticeRoundMs = Date.parse(notice.round);
  const open = new Set(standings.filter(({ standing }) => standing !== 'waits').map(({ tray }) => tray.id));
  const isOpen = notice.due.some(({ tray }) => open.has(tray));
  const isOfNotice = noticeRoundMs > nowMs || (isOpen && nowMs - noticeRoundMs < WALK_MS);
  return {
    roundMs: isOfNotice ? noticeRoundMs : nextMs,
    isOfNotice,
    isLeftOver: isOpen && !isOfNotice,
    noticeRoundMs,
  };
}
