import { toInstant } from '../../../shared/base/ids.js';
import { DAYS_PER_WEEK, MS_PER_DAY, MS_PER_HOUR } from '../../../shared/base/time-units.js';
import type { Command } from '../../../shared/wire/command.js';
import { type Desk, standingTrays } from '../desk/desk.js';
import type { RegisteredTray } from '../desk/tray-register.js';
import type { DeskEffect, DeskView } from '../desk/watering-desk.js';
import { judgeDue } from '../rounds/due-rule.js';
import type { AbsenceOutlook } from '../sentences/said/answer-sentences.js';
import type { Said } from '../sentences/said/said.js';
import { coverDoubt } from '../trays/cover-doubt.js';
import { type CommandOutcome, done, refused } from './outcome.js';

const LONGEST_ABSENCE_DAYS = 2 * DAYS_PER_WEEK;

function outlookUntil(desk: Desk, view: DeskView, untilMs: number): AbsenceOutlook {
  const { riskPct, coverDoubtedAfterDays } = desk.options.notices;
  const hours = (untilMs - view.nowMs) / MS_PER_HOUR;
  const kindOf = (tray: RegisteredTray): keyof AbsenceOutlook => {
    const forecast = view.forecasts.get(tray.id);
    if (forecast === undefined) return 'withoutForecast';
    const doubt = coverDoubt(tray, forecast.basis === 'probe', coverDoubtedAfterDays, view.nowMs);
    if (judgeDue(forecast, hours, riskPct, doubt).due) return 'mayNotLast';
    return forecast.basis === 'prior' && !view.temperatureC.has(tray.benchId) ? 'guessed' : 'lasting';
  };
  const trays = standingTrays(desk);
  const of = (kind: keyof AbsenceOutlook): readonly string[] =>
    trays.filter((tray) => kindOf(tray) === kind).map(({ id }) => id);
  return {
    mayNotLast: of('mayNotLast'),
    withoutForecast: of('withoutForecast'),
    guessed: of('guessed'),
    lasting: of('lasting'),
  };
}

/** Rounds that have not come yet happen, or do not. */
function setAbsence(desk: Desk, untilMs: number | undefined, nowMs: number): void {
  desk.state.awayUntilMs = untilMs;
  desk.state.leaving = undefined;
  for (const round of desk.state.rounds)
    if (round.roundMs > nowMs) round.skipped = untilMs !== undefined && round.roundMs < untilMs;
}

/** What the season's journal tells of it: rounds that nobody walked are missing there otherwise. */
function journalNote({ by }: Pick<Command, 'by'>, nowMs: number, said: Said): DeskEffect {
  return { kind: 'note', at: toInstant(nowMs), ...(by === undefined ? {} : { by }), said };
}

/** "Away until": rounds before then do not happen; says what to water before going. */
export function awayCommand(
  desk: Desk,
  command: Extract<Command, { do: 'away' }>,
  view: DeskView,
): CommandOutcome {
  const untilMs = Date.parse(command.until);
  if (untilMs <= view.nowMs) return refused('until-in-past', ['untilInPast', untilMs, view.nowMs]);
  if (untilMs > view.nowMs + LONGEST_ABSENCE_DAYS * MS_PER_DAY)
    return refused('until-too-far', ['absenceTooLong', LONGEST_ABSENCE_DAYS]);
  setAbsence(desk, untilMs, view.nowMs);
  const outlook = outlookUntil(desk, view, untilMs);
  const named = outlook.mayNotLast;
  if (named.length > 0) desk.state.leaving = { atMs: view.nowMs, named };
  return done(
    ['away', untilMs, view.nowMs, outlook],
    [journalNote(command, view.nowMs, ['awayNote', untilMs])],
  );
}

/** "Back": rounds happen again. */
export function backCommand(
  desk: Desk,
  command: Extract<Command, { do: 'back' }>,
  nowMs: number,
): CommandOutcome {
  if (desk.state.awayUntilMs === undefined) return refused('not-away', ['notAway']);
  setAbsence(desk, undefined, nowMs);
  return done(['back'], [journalNote(command, nowMs, ['backNote'])]);
}
