import { alarmKey } from '../alarms/alarm-book.js';
import type { Desk } from '../desk/desk.js';

/** Whether the house had asked for a pour at this instant: the last notice listed the tray, or an alarm about its water stands. */
export function wasAsked(desk: Desk, trayId: string, atMs: number): boolean {
  const round = desk.state.rounds.findLast(({ noticeAtMs }) => noticeAtMs <= atMs);
  const isCalled = (['refill', 'dry'] as const).some(
    (kind) => desk.state.alarms.get(alarmKey(kind, trayId))?.active === true,
  );
  return isCalled || round?.due.includes(trayId) === true;
}
