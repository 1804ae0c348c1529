import { type Flag, flagSchema, type RawUnit, rawUnitSchema } from '../../../../shared/facts/reading.js';
import type { Database, Statement } from '../../../host/disk/sqlite.js';
import type { JudgedReading } from '../../../monitor/ports/facts.js';
import type { Span } from '../../../monitor/ports/ports.js';
import { STEPS_PER_UNIT, toSteps, WATER_CONTENT_STEPS } from '../../both/kept-precision.js';
import type { Names } from './names.js';
import { readableRows } from './readable-rows.js';

/** Whole steps are bound twice: once to be cast, once as they are for values too large to be counted in steps. */
const write = `INSERT INTO reading (observed_at_ms, series_id, raw_steps, water_content_steps, remark_id)
  VALUES (?, ?, coalesce(CAST(? AS INTEGER), ?), coalesce(CAST(? AS INTEGER), ?), ?)
  ON CONFLICT (observed_at_ms, series_id) DO UPDATE SET
    raw_steps = excluded.raw_steps, water_content_steps = excluded.water_content_steps, remark_id = excluded.remark_id`;

/** Puts readings into their table; the same probe and instant again replaces what was there. */
export class ReadingWriter {
  readonly #insert: Statement;
  readonly #names: Names;

  constructor(db: Database, names: Names) {
    this.#insert = db.prepare(write);
    this.#names = names;
  }

  /** Returns the id of the reading's series. A value that is no finite number is kept as missing, with a reason. */
  put(reading: JudgedReading): number {
    const { rawValue, waterContentM3PerM3 } = reading;
    const isSound =
      (rawValue === undefined || Number.isFinite(rawValue)) &&
      (waterContentM3PerM3 === undefined || Number.isFinite(waterContentM3PerM3));
    const reasons = isSound ? reading.flagReasons : [...reading.flagReasons, 'not-finite'];
    const seriesId = this.#names.seriesId(reading.probeId, reading.rawUnit);
    const raw = finite(rawValue);
    const water = finite(waterContentM3PerM3);
    this.#insert.run(
      reading.observedAtMs,
      seriesId,
      raw === undefined ? null : (toSteps(raw, STEPS_PER_UNIT[reading.rawUnit]) ?? null),
      raw ?? null,
      water === undefined ? null : (toSteps(water, WATER_CONTENT_STEPS) ?? null),
      water ?? null,
      this.#names.remarkId(isSound ? reading.flag : 9, reasons, reading.calibrationId),
    );
    return seriesId;
  }
}

function finite(value: number | undefined): number | undefined {
  return value !== undefined && Number.isFinite(value) ? value : undefined;
}

export interface ReadingRow {
  readonly observedAtMs: number;
  readonly rawUnit: string;
  readonly raw: number | null;
  readonly rawClass: string;
  readonly water: number | null;
  readonly waterClass: string;
  readonly flag: number;
  readonly reasons: string;
  readonly calibrationId: string;
}

/** Columns of a reading, to be selected from reading r, probe_series s, remark m. */
export const READING_COLUMNS = `r.observed_at_ms AS observedAtMs, s.raw_unit AS rawUnit, r.raw_steps AS raw,
  typeof(r.raw_steps) AS rawClass, r.water_content_steps AS water, typeof(r.water_content_steps) AS waterClass,
  m.flag AS flag, m.flag_reasons AS reasons, m.calibration_id AS calibrationId`;

export function fromSteps(
  stored: number | null,
  storageClass: string,
  stepsPerUnit: number,
): number | undefined {
  if (stored === null) return undefined;
  return storageClass === 'integer' ? stored / stepsPerUnit : stored;
}

export function toReading(probeId: string, row: ReadingRow): JudgedReading {
  const rawUnit: RawUnit = rawUnitSchema.parse(row.rawUnit);
  const flag: Flag = flagSchema.parse(row.flag);
  return {
    probeId,
    observedAtMs: row.observedAtMs,
    rawValue: fromSteps(row.raw, row.rawClass, STEPS_PER_UNIT[rawUnit]),
    rawUnit,
    waterContentM3PerM3: fromSteps(row.water, row.waterClass, WATER_CONTENT_STEPS),
    flag,
    flagReasons: toReasons(row.reasons),
    calibrationId: row.calibrationId === '' ? undefined : row.calibrationId,
  };
}

export function toReasons(text: string): readonly string[] {
  if (text === '') return [];
  const reasons: unknown = JSON.parse(text);
  return Array.isArray(reasons) ? reasons.map(String) : [];
}

/** Ids of the series of one probe; more than one when its unit was changed. */
export function seriesIdsOf(db: Database, probeId: string): readonly number[] {
  return db.prepare<unknown[], number>('SELECT id FROM probe_series WHERE probe_id = ?').pluck().all(probeId);
}

/** The newest `limit` readings of a probe within the span, oldest first. */
export function readReadings(
  db: Database,
  probeId: string,
  span: Span,
  limit: number,
): readonly JudgedReading[] {
  const seriesIds = seriesIdsOf(db, probeId);
  const rows = db
    .prepare<unknown[], ReadingRow>(
      `SELECT ${READING_COLUMNS} FROM reading r CROSS JOIN probe_series s ON s.id = r.series_id
       CROSS JOIN remark m ON m.id = r.remark_id
       WHERE r.observed_at_ms >= ? AND r.observed_at_ms < ? AND r.series_id IN (${seriesIds.join(', ')})
       ORDER BY r.observed_at_ms DESC LIMIT ?`,
    )
    .all(span.fromMs, span.toMs, limit)
    .reverse();
  return readableRows(rows, (row) => toReading(probeId, row));
}
