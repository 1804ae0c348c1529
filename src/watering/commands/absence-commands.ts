import type { Command } from '../../../shared/wire/command.js';
import { type Desk, MS_PER_HOUR, standingTrays } from '../desk/desk.js';
import type { RegisteredTray } from '../desk/tray-register.js';
import type { DeskView } from '../desk/watering-desk.js';
import { judgeDue } from '../rounds/due-rule.js';
import { coverDoubt } from '../trays/cover-doubt.js';
import { type CommandOutcome, done, refused } from './outcome.js';

const LONGEST_ABSENCE_H = 14 * 24;

/** What is known of the trays for an absence: ids of each. */
interface AbsenceOutlook {
  /** Will not last until the return, at the configured risk. */
  readonly mayNotLast: readonly string[];
  readonly withoutForecast: readonly string[];
  /** Should last by what such blocks usually do; nothing measures there. */
  readonly guessed: readonly string[];
  readonly lasting: readonly string[];
}

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

/** What an absence means for the trays; nothing known is not "well". */
function outlookWords({ mayNotLast, withoutForecast, guessed, lasting }: AbsenceOutlook): string {
  const others = mayNotLast.length + withoutForecast.length + guessed.length > 0;
  const words = [
    mayNotLast.length === 0 ? '' : `Water before you go, these may not last: ${mayNotLast.join(', ')}.`,
    withoutForecast.length === 0
      ? ''
      : `No forecast yet of ${withoutForecast.join(', ')}: look before you go.`,
    guessed.length === 0
      ? ''
      : `Nothing measures at ${guessed.join(', ')}: by what such blocks usually do they should last, but look before you go.`,
    lasting.length === 0 ? '' : `${others ? 'The others' : 'Every tray'} should last until then.`,
  ].filter((text) => text !== '');
  return words.length === 0 ? 'No tray stands on the benches.' : words.join(' ');
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
  const outlook = outlookUntil(desk, view, untilMs);
  const named = outlook.mayNotLast;
  if (named.length > 0) desk.state.leaving = { atMs: view.nowMs, named };
  return done(`Away until ${back}. ${outlookWords(outlook)}`, []);
}

/** "Back": rounds happen again. */
export function backCommand(desk: Desk, nowMs: number): CommandOutcome {
  if (desk.state.awayUntilMs === undefined)
    return refused('not-away', 'You were not away. Nothing is to be done.');
  setAbsence(desk, undefined, nowMs);
  return done('Welcome back. Rounds happen again.', []);
}
