import { toInstant } from '../../../../shared/base/ids.js';
import { MS_PER_DAY } from '../../../../shared/base/time-units.js';
import { type Forecast, forecastSchema } from '../../../../shared/facts/forecast.js';
import type { WaterContentAt } from '../../../drying/curves/cut-dry-down.js';
import type { Database, Statement } from '../../../host/disk/sqlite.js';
import type { KeptForecast, Span } from '../../../monitor/ports/ports.js';
import type { Names } from './names.js';
import { readableRows } from './readable-rows.js';

const WEEK_MS = 7 * MS_PER_DAY;

const columns = [
  'at_ms',
  'tray_name_id',
  'water_content_m3_per_m3',
  'water_content_sd_m3_per_m3',
  'p10_h',
  'p50_h',
  'p90_h',
  'driest_tenth_p10_h',
  'driest_tenth_p50_h',
  'driest_tenth_p90_h',
  'basis',
  'lasts_until_rounds',
  'container_capacity_m3_per_m3',
  'refill_point_m3_per_m3',
];

/** Puts forecasts into their table; the same tray and instant again replaces what was there. */
export class ForecastWriter {
  readonly #insert: Statement;
  readonly #names: Names;

  constructor(db: Database, names: Names) {
    this.#insert = db.prepare(
      `INSERT OR REPLACE INTO forecast (${columns.join(', ')}) VALUES (${columns.map(() => '?').join(', ')})`,
    );
    this.#names = names;
  }

  put(forecast: Forecast): void {
    const { hoursToRefill: mean, hoursToRefillDriestTenth: driest } = forecast;
    this.#insert.run(
      Date.parse(forecast.at),
      this.#names.trayNameId(forecast.tray),
      forecast.waterContentM3PerM3,
      forecast.waterContentSdM3PerM3 ?? null,
      mean.p10,
      mean.p50,
      mean.p90,
      driest.p10,
      driest.p50,
      driest.p90,
      forecast.basis ?? null,
      forecast.lastsUntilRounds === undefined ? null : JSON.stringify(forecast.lastsUntilRounds),
      forecast.containerCapacityM3PerM3 ?? null,
      forecast.refillPointM3PerM3 ?? null,
    );
  }
}

interface Row {
  readonly atMs: number;
  readonly tray: string;
  readonly water: number;
  readonly waterSd: number | null;
  readonly p10: number | null;
  readonly p50: number | null;
  readonly p90: number | null;
  readonly driest10: number | null;
  readonly driest50: number | null;
  readonly driest90: number | null;
  readonly basis: string | null;
  readonly lasts: string | null;
  readonly capacity: number | null;
  readonly refill: number | null;
}

const select = `SELECT f.at_ms AS atMs, t.tray_id AS tray, f.water_content_m3_per_m3 AS water,
  f.water_content_sd_m3_per_m3 AS waterSd, f.p10_h AS p10, f.p50_h AS p50, f.p90_h AS p90,
  f.driest_tenth_p10_h AS driest10, f.driest_tenth_p50_h AS driest50, f.driest_tenth_p90_h AS driest90,
  f.basis AS basis, f.lasts_until_rounds AS lasts,
  f.container_capacity_m3_per_m3 AS capacity, f.refill_point_m3_per_m3 AS refill
  FROM forecast f JOIN tray_name t ON t.id = f.tray_name_id`;

function toForecast(row: Row): Forecast {
  return forecastSchema.parse({
    at: toInstant(row.atMs),
    tray: row.tray,
    waterContentM3PerM3: row.water,
    ...(row.waterSd === null ? {} : { waterContentSdM3PerM3: row.waterSd }),
    hoursToRefill: { p10: row.p10, p50: row.p50, p90: row.p90 },
    hoursToRefillDriestTenth: { p10: row.driest10, p50: row.driest50, p90: row.driest90 },
    ...(row.lasts === null ? {} : { lastsUntilRounds: JSON.parse(row.lasts) }),
    ...(row.basis === null ? {} : { basis: row.basis }),
    ...(row.capacity === null ? {} : { containerCapacityM3PerM3: row.capacity }),
    ...(row.refill === null ? {} : { refillPointM3PerM3: row.refill }),
  });
}

function trayNameId(db: Database, trayId: string): number | undefined {
  return db.prepare<unknown[], number>('SELECT id FROM tray_name WHERE tray_id = ?').pluck().get(trayId);
}

/** Short forms of one tray's forecasts within the span, or of all trays'. */
export function readKeptForecasts(
  db: Database,
  trayId: string | undefined,
  span: Span,
): readonly KeptForecast[] {
  const ofTray = trayId === undefined ? [] : [trayNameId(db, trayId) ?? -1];
  return db
    .prepare<unknown[], KeptForecast>(
      `SELECT f.at_ms AS atMs, t.tray_id AS trayId, f.water_content_m3_per_m3 AS waterContentM3PerM3, f.p10_h AS p10H,
       f.p50_h AS p50H, f.p90_h AS p90H, f.driest_tenth_p50_h AS driestTenthP50H
       FROM forecast f CROSS JOIN tray_name t ON t.id = f.tray_name_id
       WHERE f.at_ms >= ? AND f.at_ms < ?${trayId === undefined ? '' : ' AND f.tray_name_id = ?'}
       ORDER BY f.at_ms, f.tray_name_id`,
    )
    .all(span.fromMs, span.toMs, ...ofTray);
}

/** Water content of one tray as its forecasts told it, from just after `fromMs` to just before `toMs`. */
export function readCourse(
  db: Database,
  trayId: string,
  fromMs: number,
  toMs: number,
): readonly WaterContentAt[] {
  return db
    .prepare<unknown[], WaterContentAt>(
      `SELECT at_ms AS atMs, water_content_m3_per_m3 AS waterContentM3PerM3 FROM forecast
       WHERE at_ms > ? AND at_ms < ? AND tray_name_id = ? ORDER BY at_ms`,
    )
    .all(fromMs, toMs, trayNameId(db, trayId) ?? -1);
}

/** Whole forecasts of all trays within the span, the newest `limit`, oldest first. */
export function readForecasts(db: Database, span: Span, limit: number): readonly Forecast[] {
  const rows = db
    .prepare<unknown[], Row>(
      `${select} WHERE f.at_ms >= ? AND f.at_ms < ? ORDER BY f.at_ms DESC, f.tray_name_id DESC LIMIT ?`,
    )
    .all(span.fromMs, span.toMs, limit)
    .reverse();
  return readableRows(rows, toForecast);
}

/** The newest forecast of each tray that had one in the week before the newest of all, by tray. */
export function readLatestForecasts(db: Database): readonly Forecast[] {
  const newestMs = db.prepare<unknown[], number | null>('SELECT max(at_ms) FROM forecast').pluck().get();
  if (newestMs === null || newestMs === undefined) return [];
  const rows = db
    .prepare<unknown[], Row>(
      `${select} JOIN (SELECT max(at_ms) AS newest_ms, tray_name_id AS newest_id FROM forecast
         WHERE at_ms >= ? GROUP BY tray_name_id)
       ON f.at_ms = newest_ms AND f.tray_name_id = newest_id ORDER BY t.tray_id`,
    )
    .all(newestMs - WEEK_MS);
  return readableRows(rows, toForecast);
}
