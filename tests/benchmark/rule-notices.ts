import type { RoundCalendar } from '../../src/watering/round-calendar.js';
import type { HoursTriple } from './forecaster.js';
import type { Announcement } from './score-notices.js';

const HOUR_MS = 3_600_000;

/**
 * What a grower would list who has only a rule: an hour before each round, the trays whose middle forecast does not last
 * until the round after it. `forecastOf` is asked at full hours; rounds stand on full hours.
 */
export function listByRule(
  rounds: RoundCalendar,
  trayIds: readonly string[],
  atMs: number,
  forecastOf: (trayId: string) => HoursTriple,
): Announcement[] {
  const [coming, next] = rounds.after(atMs, 2);
  if (coming === undefined || next === undefined || coming - atMs !== HOUR_MS) return [];
  return trayIds
    .filter((trayId) => forecastOf(trayId).p50 < (next - atMs) / HOUR_MS)
    .map((trayId) => ({ trayId, atMs, how: 'listed' }));
}
