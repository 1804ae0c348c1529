import { rawUnitSchema } from '../../../../shared/facts/reading.js';
import type { Database } from '../../../host/disk/sqlite.js';
import type { KnownProbe } from '../../../monitor/ports/ports.js';
import { Marks } from './marks.js';
import { TEN_MINUTES_MS } from './roll-ups.js';

interface Ends {
  readonly firstMs: number | null;
  readonly lastMs: number | null;
}

/** Probes that have readings, with the first and the last; roll-ups say where to look, so that no range is scanned. */
export function readProbes(db: Database): readonly KnownProbe[] {
  const rolledUntilMs = new Marks(db).get('rolled-until-ms') ?? 0;
  const rolledEnds = db.prepare<unknown[], { first: number | null; last: number | null }>(
    `SELECT (SELECT min(step) FROM roll_up_10min WHERE series_id = ?) AS first,
            (SELECT max(step) FROM roll_up_10min WHERE series_id = ?) AS last`,
  );
  const endsWithin = db.prepare<unknown[], Ends>(
    `SELECT min(observed_at_ms) AS firstMs, max(observed_at_ms) AS lastMs FROM reading
     WHERE observed_at_ms >= ? AND observed_at_ms < ? AND series_id = ?`,
  );
  const withinStep = (seriesId: number, step: number): Ends | undefined =>
    endsWithin.get(step * TEN_MINUTES_MS, (step + 1) * TEN_MINUTES_MS, seriesId);
  const series = db
    .prepare<unknown[], { id: number; probeId: string; rawUnit: string }>(
      'SELECT id, probe_id AS probeId, raw_unit AS rawUnit FROM probe_series ORDER BY probe_id, id',
    )
    .all();
  return series.flatMap(({ id, probeId, rawUnit }) => {
    const tail = endsWithin.get(rolledUntilMs, Number.MAX_SAFE_INTEGER, id);
    const rolled = rolledEnds.get(id, id);
    const firstStep = rolled?.first ?? undefined;
    const lastStep = rolled?.last ?? undefined;
    const firstAtMs =
      firstStep === undefined
        ? tail?.firstMs
        : (withinStep(id, firstStep)?.firstMs ?? firstStep * TEN_MINUTES_MS);
    const lastAtMs =
      tail?.lastMs ??
      (lastStep === undefined ? undefined : (withinStep(id, lastStep)?.lastMs ?? lastStep * TEN_MINUTES_MS));
    if (typeof firstAtMs !== 'number' || typeof lastAtMs !== 'number') return [];
    return [{ probeId, rawUnit: rawUnitSchema.parse(rawUnit), firstAtMs, lastAtMs }];
  });
}
