import { MS_PER_MIN } from '../../../shared/base/time-units.js';
import { reopenTrayAlarms } from '../alarms/alarm-book.js';
import { type Desk, standingTrays } from '../desk/desk.js';
import { memoryOf, type RoundMemory } from '../desk/desk-state.js';
import { counted, probabilityWatered, shareOf } from '../desk/grower-habit.js';
import { passedBy } from '../desk/shortfall.js';
import type { RegisteredTray } from '../desk/tray-register.js';
import type { DeskEffect, DeskView } from '../desk/watering-desk.js';

/** Below this nobody would believe it, and above its complement nobody would ask. */
const WORTH_CARRYING = 0.03;
const WORTH_ASKING = 0.05;

/** What became of a tray at a round. */
type Outcome = 'told' | 'shown' | 'not-watered' | 'unknown';

interface TrayOutcome {
  readonly tray: RegisteredTray;
  readonly listed: boolean;
  readonly outcome: Outcome;
  readonly byProbe: boolean;
}

function outcomeOf(desk: Desk, tray: RegisteredTray, round: RoundMemory, byProbe: boolean): Outcome {
  const memory = memoryOf(desk.state, tray.id);
  const pour = memory.pours.findLast(({ atMs }) => atMs >= round.noticeAtMs);
  if (pour?.told !== undefined) return 'told';
  if (pour !== undefined) return 'shown';
  const leftOut = memory.leftOutAtMs !== undefined && memory.leftOutAtMs >= round.noticeAtMs;
  return leftOut || byProbe ? 'not-watered' : 'unknown';
}

function learnHabit(desk: Desk, outcomes: readonly TrayOutcome[]): void {
  for (const { listed, outcome, byProbe } of outcomes) {
    if (!byProbe) continue;
    const watered = outcome !== 'not-watered';
    const { habit } = desk.state;
    const told = watered ? counted(habit.told, outcome === 'told') : habit.told;
    desk.state.habit = listed
      ? { ...habit, told, listedWatered: counted(habit.listedWatered, watered) }
      : { ...habit, told, unlistedWatered: counted(habit.unlistedWatered, watered) };
  }
}

/** Trays that nobody told of and no probe shows: carried as perhaps watered, and asked about once where it matters. */
function carryUnknown(
  desk: Desk,
  round: RoundMemory,
  outcomes: readonly TrayOutcome[],
  nowMs: number,
): readonly DeskEffect[] {
  const effects: DeskEffect[] = [];
  const ask = new Map<string, string[]>();
  for (const { tray, listed, outcome } of outcomes) {
    if (outcome !== 'unknown') continue;
    const seen = outcomes.filter(
      (other) => other.byProbe && other.listed === listed && other.tray.benchId === tray.benchId,
    );
    const probability = probabilityWatered(desk.state.habit, listed, {
      watered: seen.filter((other) => other.outcome !== 'not-watered').length,
      of: seen.length,
    });
    if (probability < WORTH_CARRYING) continue;
    const memory = memoryOf(desk.state, tray.id);
    const isAsked = memory.perhaps?.asked === true;
    const asks = listed && !isAsked && probability > WORTH_ASKING && probability < 1 - WORTH_ASKING;
    memory.perhaps = { atMs: round.roundMs, probability, ...(isAsked || asks ? { asked: true } : {}) };
    effects.push({ kind: 'perhaps-watered', trayId: tray.id, atMs: round.roundMs, probability });
    if (asks) ask.set(tray.benchId, [...(ask.get(tray.benchId) ?? []), tray.id]);
  }
  for (const [benchId, trayIds] of ask)
    effects.push({ kind: 'ask', trays: trayIds, said: { nowMs, benchId, roundMs: round.roundMs } });
  return effects;
}

/**
 * Once a round's grace is over: what was told, what probes show, what evidently was not watered (those due are marked), and
 * what is not known. Each round is settled once. Alarms that stood before it and of which nobody can say whether they were acted on are
 * opened anew: a call is never worn out by a watering that nobody told. Where a probe shows that nothing was poured, they stand.
 */
export function settleRounds(desk: Desk, view: DeskView): readonly DeskEffect[] {
  const graceMs = desk.options.notices.graceMin * MS_PER_MIN;
  return desk.state.rounds.flatMap((round) => {
    if (round.settled || view.nowMs < round.roundMs + graceMs) return [];
    round.settled = true;
    if (round.skipped) return [];
    const outcomes = standingTrays(desk)
      .filter((tray) => tray.startedAtMs <= round.noticeAtMs)
      .map((tray): TrayOutcome => {
        const byProbe = view.forecasts.get(tray.id)?.basis === 'probe' && tray.hasProbe;
        const listed = round.due.includes(tray.id);
        return { tray, listed, byProbe, outcome: outcomeOf(desk, tray, round, byProbe) };
      });
    learnHabit(desk, outcomes);
    const notSeen = outcomes.filter(({ outcome }) => outcome === 'not-watered' || outcome === 'unknown');
    const unknown = outcomes.filter(({ outcome }) => outcome === 'unknown');
    for (const { tray, byProbe } of notSeen)
      passedBy(memoryOf(desk.state, tray.id), byProbe ? 1 : shareOf(desk.state.habit.told));
    for (const { tray, listed, outcome } of outcomes)
      if (listed && outcome === 'not-watered') memoryOf(desk.state, tray.id).missedRoundMs = round.roundMs;
    return [
      ...carryUnknown(desk, round, outcomes, view.nowMs),
      ...unknown.flatMap(({ tray }) =>
        reopenTrayAlarms(desk, tray.id, ['refill', 'dry'], round.roundMs, view.nowMs),
      ),
    ];
  });
}
