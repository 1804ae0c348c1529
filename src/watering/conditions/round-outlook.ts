import { type Desk, MS_PER_HOUR } from '../desk.js';
import type { RoundMemory } from '../desk-state.js';
import { comingRounds } from '../rounds/coming-rounds.js';
import type { DeskView } from '../watering-desk.js';

/** A notice lists what the grower, who is on the way, is about to see: this long before the round. */
const ON_THE_WAY_MS = 1.5 * MS_PER_HOUR;
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
    round: rounds.findLast(
      (round) => !round.settled && !round.skipped && round.roundMs - nowMs <= ON_THE_WAY_MS,
    ),
    isNight: clock >= NIGHT.from || clock < NIGHT.to,
  };
}
