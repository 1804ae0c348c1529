import type { Command } from '../../../shared/command.js';
import { type Desk, MS_PER_HOUR, standingTrays } from '../desk.js';
import { judgeDue } from '../rounds/due-rule.js';
import { coverDoubt } from '../trays/cover-doubt.js';
import type { DeskView } from '../watering-desk.js';
import { type CommandOutcome, done, refused } from './outcome.js';

const LONGEST_ABSENCE_H = 14 * 24;

/** Trays that will not last until the grower is back, at the configured risk. */
function notLasting(desk: Desk, view: DeskView, untilMs: number): readonly string[] {
  const { riskPct, coverDoubtedAfterDays } = desk.options.notices;
  const hours = (untilMs - view.nowMs) / MS_PER_HOUR;
  return standingTrays(desk).flatMap((tray) => {
    const forecast = view.forecasts.get(tray.id);
    if (forecast === undefined) return [];
    const doubt = coverDoubt(tray, forecast.basis === 'probe', coverDoubtedAfterDays, view.nowMs);
    return judgeDue(forecast, hours, riskPct, doubt).due ? [tray.id] : [];
  });
}

/** Rounds that have not come yet happen, or do not. */
function setAbsence(desk: Desk, untilMs: number | undefined, nowMs: number): void {
  desk.state.awayUntilMs = untilMs;
  desk.state.leaving = undefined;
  for (const round of desk.state.rounds)
    if (round.roundMs > nowMs) round.skipped = untilMs !== undefined && round.roundMs < untilMs;
}

/** "Away until": rounds before then do not happen; says what to water before going. */
export function awayCommand(
  desk: Desk,
  command: Extract<Command, { do: 'away' }>,
  view: DeskView,
): CommandOutcome {
  const untilMs = Date.parse(command.until);
  if (untilMs <= view.nowMs)
    return refused('until-in-past', `${desk.words.time(untilMs, view.nowMs)} is over. Give a time to come.`);
  if (untilMs > view.nowMs + LONGEST_ABSENCE_H * MS_PER_HOUR)
    return refused(
      'until-too-far',
      `An absence is at most ${LONGEST_ABSENCE_H / 24} days. Give an earlier time.`,
    );
  setAbsence(desk, untilMs, view.nowMs);
  const back = desk.words.time(untilMs, view.nowMs);
  const trays = notLasting(desk, view, untilMs);
  if (trays.length > 0) desk.state.leaving = { atMs: view.nowMs, named: trays };
  const sentence =
    trays.length === 0
      ? `Away until ${back}. Every tray should last until then.`
      : `Away until ${back}. Water before you go, these may not last: ${trays.join(', ')}.`;
  return done(sentence, []);
}

/** "Back": rounds happen again. */
export function backCommand(desk: Desk, nowMs: number): CommandOutcome {
  if (desk.state.awayUntilMs === undefined)
    return refused('not-away', 'You were not away. Nothing is to be done.');
  setAbsence(desk, undefined, nowMs);
  return done('Welcome back. Rounds happen again.', []);
}
