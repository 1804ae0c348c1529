import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import type { Desk } from '../desk/desk.js';
import type { RoundMemory, TrayMemory } from '../desk/desk-state.js';
import { lastWateredMs } from '../desk/pour-ledger.js';
import type { DeskView } from '../desk/watering-desk.js';
import { comingRounds } from '../rounds/coming-rounds.js';

/** A notice lists what the grower, who is on the way, is about to see: this long before the round. */
export const ON_THE_WAY_MS = 1.5 * MS_PER_HOUR;
/** Hours on the farm's clock at which nobody is at the benches anyway. */
const NIGHT = { from: '22:00', to: '05:00' } as const;

/** When the rounds are, and what their notices have listed. */
export interface RoundOutlook {
  readonly nowMs: number;
  readonly comingMs: number;
  readonly afterComingMs: number;
  /** The round that was last; undefined when there was none, or nobody came. */
  readonly lastMs: number | undefined;
  /** What the notice of the coming round lists. */
  readonly listed: ReadonlySet<string>;
  /** The round that is about to begin, or going on until its grace is over; undefined when none is. */
  readonly round: RoundMemory | undefined;
  readonly isNight: boolean;
}

/** The round that is about to begin, or going on until its grace is over; undefined when none is. */
export function runningRound(desk: Desk, nowMs: number): RoundMemory | undefined {
  return desk.state.rounds.findLast(
    (round) => !round.settled && !round.skipped && round.roundMs - nowMs <= ON_THE_WAY_MS,
  );
}

/** Listed for the round that is about to begin or going on, and not known to have been watered for it: it is being seen to. */
export function isSeenTo(trayId: string, memory: TrayMemory, round: RoundMemory | undefined): boolean {
  if (round?.due.includes(trayId) !== true) return false;
  return (lastWateredMs(memory.pours) ?? Number.NEGATIVE_INFINITY) < round.noticeAtMs;
}

export function outlookOf(desk: Desk, view: DeskView): RoundOutlook {
  const { nowMs } = view;
  const [comingMs = nowMs, afterComingMs = comingMs] = comingRounds(desk, view, nowMs, 2);
  const { rounds } = desk.state;
  const lastMs = view.rounds.lastBefore(nowMs);
  const skipped = rounds.some((round) => round.roundMs === lastMs && round.skipped);
  const clock = desk.words.clock(nowMs);
  return {
    nowMs,
    comingMs,
    afterComingMs,
    lastMs: skipped ? undefined : lastMs,
    listed: new Set(rounds.find((round) => round.roundMs === comingMs)?.due ?? []),
    round: runningRound(desk, nowMs),
    isNight: clock >= NIGHT.from || clock < NIGHT.to,
  };
}
