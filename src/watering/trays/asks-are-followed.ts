import { alarmKey } from '../alarms/alarm-book.js';
import type { Desk } from '../desk/desk.js';
import { shareOf } from '../desk/grower-habit.js';

/**
 * The chance that this grower waters a tray which the house asks for (listed for the round, or an alarm about it stands), learned;
 * undefined where the house had not asked.
 */
export function asksAreFollowed(desk: Desk, trayId: string, atMs: number): number | undefined {
  const round = desk.state.rounds.findLast(({ noticeAtMs }) => noticeAtMs <= atMs);
  const isCalled = (['refill', 'dry'] as const).some(
    (kind) => desk.state.alarms.get(alarmKey(kind, trayId))?.active === true,
  );
  const wasAsked = isCalled || round?.due.includes(trayId) === true;
  return wasAsked ? shareOf(desk.state.habit.listedWatered) : undefined;
}
