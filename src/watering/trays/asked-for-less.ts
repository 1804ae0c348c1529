import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import { toPourMl } from '../../../shared/facts/pour-amount.js';
import type { Desk } from '../desk/desk.js';

/** What is told of a watering is about the round of the last notice for this long after it. */
export const ROUND_TOLD_WITHIN_MS = 8 * MS_PER_HOUR;

/**
 * What the last notice asked for, mL, where its pours do not fill the tray: who then says "watered" has as likely
 * poured that as filled it. Undefined where the tray was to be filled, was not listed, or the notice is of another round.
 */
export function askedForLessMl(desk: Desk, trayId: string, wateredAtMs: number): number | undefined {
  const { notice } = desk.state;
  if (notice === undefined || wateredAtMs < Date.parse(notice.at)) return undefined;
  if (wateredAtMs > Date.parse(notice.round) + ROUND_TOLD_WITHIN_MS) return undefined;
  const due = notice.due.find(({ tray }) => tray === trayId);
  return due?.pourPlan?.shortMl === undefined ? undefined : toPourMl(due);
}
