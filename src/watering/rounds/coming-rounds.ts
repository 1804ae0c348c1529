import { MS_PER_DAY } from '../../../shared/base/time-units.js';
import type { Desk } from '../desk/desk.js';
import type { DeskView } from '../desk/watering-desk.js';

/**
 * The next `count` moments, after `afterMs`, at which somebody will be at the benches: the farm's rounds, without those that fall
 * into an absence, and the return from it. A farm without rounds in the next fortnight is taken to look once a day.
 */
export function comingRounds(desk: Desk, view: DeskView, afterMs: number, count: number): readonly number[] {
  const away = desk.state.awayUntilMs;
  const fromMs = away === undefined ? afterMs : Math.max(afterMs, away);
  const rounds = [
    ...(away !== undefined && away > afterMs ? [away] : []),
    ...view.rounds.after(fromMs, count),
  ];
  let last = rounds[rounds.length - 1] ?? fromMs;
  while (rounds.length < count) {
    last += MS_PER_DAY;
    rounds.push(last);
  }
  return rounds.slice(0, count);
}
