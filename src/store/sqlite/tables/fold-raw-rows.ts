import { flagSchema, rawUnitSchema } from '../../../../shared/facts/reading.js';
import { isBelieved } from '../../../../shared/facts/reading-belief.js';
import type { Database } from '../../../host/disk/sqlite.js';
import type { Span } from '../../../monitor/ports/ports.js';
import type { BucketFold } from '../../both/bucket-fold.js';
import { STEPS_PER_UNIT, WATER_CONTENT_STEPS } from '../../both/kept-precision.js';
import { toReasons } from './reading-table.js';

type Row = readonly [
  seriesId: number,
  atMs: number,
  raw: number | null,
  rawIsReal: number,
  water: number | null,
  waterIsReal: number,
  remarkId: number,
];

/** Feeds single readings of the span into the fold that `foldAt` names for each; all series unless some are given. */
export function foldRawRows(
  db: Database,
  span: Span,
  seriesIds: readonly number[] | undefined,
  foldAt: (seriesId: number, atMs: number) => BucketFold,
): void {
  const good = goodByRemark(db);
  const steps = stepsBySeries(db);
  const rows = db
    .prepare<unknown[], Row>(
      `SELECT series_id, observed_at_ms, raw_steps, typeof(raw_steps) = 'real', water_content_steps,
       typeof(water_content_steps) = 'real', remark_id FROM reading WHERE observed_at_ms >= ? AND observed_at_ms < ?
       ${seriesIds === undefined ? '' : `AND series_id IN (${seriesIds.join(', ')})`}`,
    )
    .raw()
    .iterate(span.fromMs, span.toMs);
  for (const [seriesId, atMs, raw, rawIsReal, water, waterIsReal, remarkId] of rows)
    foldAt(seriesId, atMs).addReading(
      good.get(remarkId) ?? true,
      water === null ? undefined : waterIsReal === 1 ? water : water / WATER_CONTENT_STEPS,
      raw === null ? undefined : rawIsReal === 1 ? raw : raw / (steps.get(seriesId) ?? 1),
    );
}

function goodByRemark(db: Database): ReadonlyMap<number, boolean> {
  const rows = db
    .prepare<unknown[], [number, number, string]>('SELECT id, flag, flag_reasons FROM remark')
    .raw()
    .all();
  return new Map(
    rows.map(([id, flag, reasons]) => [id, isBelieved(flagSchema.parse(flag), toReasons(reasons))] as const),
  );
}

function stepsBySeries(db: Database): ReadonlyMap<number, number> {
  const rows = db.prepare<unknown[], [number, string]>('SELECT id, raw_unit FROM probe_series').raw().all();
  return new Map(rows.map(([id, unit]) => [id, STEPS_PER_UNIT[rawUnitSchema.parse(unit)]] as const));
}
