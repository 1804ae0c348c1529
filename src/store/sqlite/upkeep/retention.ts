import { MS_PER_DAY } from '../../../../shared/base/time-units.js';
import type { Database } from '../../../host/disk/sqlite.js';
import { Marks } from '../tables/marks.js';
import { HOUR_MS } from '../tables/roll-ups.js';

/** Rows deleted in one transaction, so that the monitor is never held up for long. */
const ROWS_AT_ONCE = 20_000;

/** Days of readings that one day's upkeep may delete: a clock that jumps ahead must not empty the store. */
const MOST_DAYS_A_DAY = 30;

/**
 * Before when single readings are to go today: older than `readingsDays`, rolled up, and at most a month at the old end.
 * Undefined when there are none.
 */
export function pruneBeforeMs(db: Database, readingsDays: number, nowMs: number): number | undefined {
  const rolledUntilMs = new Marks(db).get('rolled-until-ms');
  const oldestMs = db
    .prepare<unknown[], number | null>('SELECT min(observed_at_ms) FROM reading')
    .pluck()
    .get();
  if (rolledUntilMs === undefined || oldestMs === null || oldestMs === undefined) return undefined;
  const wantedMs = nowMs - readingsDays * MS_PER_DAY;
  const beforeMs = Math.min(wantedMs, rolledUntilMs, oldestMs + MOST_DAYS_A_DAY * MS_PER_DAY);
  const wholeHourMs = Math.floor(beforeMs / HOUR_MS) * HOUR_MS;
  return wholeHourMs > oldestMs ? wholeHourMs : undefined;
}

/**
 * Deletes single readings before an instant that `pruneBeforeMs` gave; their roll-ups stay, and so does everything else.
 * Returns how many went; call again while it returns some.
 */
export function pruneReadings(db: Database, beforeMs: number): number {
  const marks = new Marks(db);
  const deleteSome = db.prepare(
    `DELETE FROM reading WHERE (observed_at_ms, series_id) IN
       (SELECT observed_at_ms, series_id FROM reading WHERE observed_at_ms < ? LIMIT ?)`,
  );
  return db.transaction(() => {
    const { changes } = deleteSome.run(beforeMs, ROWS_AT_ONCE);
    if (beforeMs > (marks.get('readings-kept-from-ms') ?? 0)) marks.set('readings-kept-from-ms', beforeMs);
    return changes;
  })();
}

/** Deletes forecasts made before `beforeMs`. Returns how many went; call again while it returns some. */
export function pruneForecasts(db: Database, beforeMs: number): number {
  return db
    .prepare(
      `DELETE FROM forecast WHERE (at_ms, tray_name_id) IN
         (SELECT at_ms, tray_name_id FROM forecast WHERE at_ms < ? LIMIT ?)`,
    )
    .run(beforeMs, ROWS_AT_ONCE).changes;
}
