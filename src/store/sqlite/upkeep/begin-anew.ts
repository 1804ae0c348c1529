import { type CarriedTable, carryRows } from '../../../host/disk/carry-rows.js';
import type { Database } from '../../../host/disk/sqlite.js';
import { Marks } from '../tables/marks.js';

/** About 10 s of work on a small board: three weeks of ten probes at a reading a minute, and roll-ups of all that was (judgement). */
const READINGS_AT_MOST = 300_000;

function byKey(...columns: readonly string[]): readonly [string, string] {
  return [columns.join(', '), columns.map((column) => `${column} DESC`).join(', ')];
}

/** What a store must have again comes first. */
const carried: readonly CarriedTable[] = [
  { table: 'state', order: byKey('rowid') },
  { table: 'fact', order: byKey('rowid') },
  { table: 'mark', order: byKey('name') },
  { table: 'tray_name', order: byKey('id') },
  { table: 'forecast', order: byKey('at_ms', 'tray_name_id') },
  { table: 'probe_series', order: byKey('id') },
  { table: 'remark', order: byKey('id') },
  { table: 'roll_up_hour', order: byKey('series_id', 'step') },
  { table: 'roll_up_10min', order: byKey('series_id', 'step') },
  {
    table: 'reading',
    order: ['observed_at_ms DESC, series_id DESC', 'observed_at_ms, series_id'],
    most: READINGS_AT_MOST,
  },
];

/**
 * Carries over from a store that was set aside what can be read of it: states, journal, forecasts, roll-ups and the newest readings.
 * The older ones stay in the file that was set aside. Returns a sentence about it.
 */
export function carryStore(into: Database, aside: string, why: string): string {
  const counts = carryRows(aside, into, carried);
  const readingCount = counts.get('reading') ?? 0;
  if (readingCount >= READINGS_AT_MOST) {
    const oldestMs = into.prepare<unknown[], number>('SELECT min(observed_at_ms) FROM reading').pluck().get();
    if (oldestMs !== undefined) new Marks(into).set('readings-kept-from-ms', oldestMs);
  }
  return `${why} It was set aside as "${aside}" and begun anew; ${counts.get('fact') ?? 0} journal entries and ${readingCount} readings of it could be read and were taken over. Restore a backup, or move that file away when it is no longer needed.`;
}
