import type { Database } from 'better-sqlite3';
import { Marks } from './marks.js';
import { HOUR_MS } from './roll-ups.js';

const MS_PER_DAY = 86_400_000;

/** Rows deleted in one transaction, so that the monitor is never held up for long. */
const ROWS_AT_ONCE = 20_000;

/**
 * Deletes single readings older than `readingsDays`; their roll-ups stay, and so does everything else. Only what has been
 * rolled up goes. Returns how many went; call again while it returns some.
 */
export function pruneReadings(db: Database, readingsDays: number, nowMs: number): number {
  const marks = new Marks(db);
  const rolledUntilMs = marks.get('rolled-until-ms');
  if (rolledUntilMs === undefined) return 0;
  const wantedMs = Math.floor((nowMs - readingsDays * MS_PER_DAY) / HOUR_MS) * HOUR_MS;
  const keepFromMs = Math.min(wantedMs, rolledUntilMs);
  const deleteSome = db.prepare(
    `DELETE FROM reading WHERE (observed_at_ms, series_id) IN
       (SELECT observed_at_ms, series_id FROM reading WHERE observed_at_ms < ? LIMIT ?)`,
  );
  return db.transaction(() => {
    const { changes } = deleteSome.run(keepFromMs, ROWS_AT_ONCE);
    if (keepFromMs > (marks.get('readings-kept-from-ms') ?? 0) && changes > 0)
      marks.set('readings-kept-from-ms', keepFromMs);
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
