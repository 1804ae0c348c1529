import type { Flag, RawUnit } from '../../../../shared/facts/reading.js';
import type { Database, Statement } from '../../../host/disk/sqlite.js';

/** Short numbers for words that come back in every row. What was learned in a rolled back transaction is forgotten. */
class Dictionary {
  readonly #ids = new Map<string, number>();
  readonly #find: Statement<unknown[], number>;
  readonly #add: Statement;

  constructor(db: Database, table: string, columns: readonly string[]) {
    const where = columns.map((column) => `${column} = ?`).join(' AND ');
    this.#find = db.prepare<unknown[], number>(`SELECT id FROM ${table} WHERE ${where}`).pluck();
    this.#add = db.prepare(
      `INSERT INTO ${table} (${columns.join(', ')}) VALUES (${columns.map(() => '?').join(', ')})`,
    );
  }

  idOf(key: string, values: readonly unknown[]): number {
    const known = this.#ids.get(key);
    if (known !== undefined) return known;
    const id = this.#find.get(...values) ?? Number(this.#add.run(...values).lastInsertRowid);
    this.#ids.set(key, id);
    return id;
  }

  forget(): void {
    this.#ids.clear();
  }
}

/** Ids of probes with their units, of flags with their reasons and calibration, and of trays. */
export class Names {
  readonly #series: Dictionary;
  readonly #remarks: Dictionary;
  readonly #trays: Dictionary;

  constructor(db: Database) {
    this.#series = new Dictionary(db, 'probe_series', ['probe_id', 'raw_unit']);
    this.#remarks = new Dictionary(db, 'remark', ['flag', 'flag_reasons', 'calibration_id']);
    this.#trays = new Dictionary(db, 'tray_name', ['tray_id']);
  }

  seriesId(probeId: string, rawUnit: RawUnit): number {
    return this.#series.idOf(`${probeId} ${rawUnit}`, [probeId, rawUnit]);
  }

  /** An unknown calibration is kept as an empty text, since NULL would not be found again. */
  remarkId(flag: Flag, reasons: readonly string[], calibrationId: string | undefined): number {
    const text = reasons.length === 0 ? '' : JSON.stringify(reasons);
    return this.#remarks.idOf(`${flag} ${calibrationId ?? ''} ${text}`, [flag, text, calibrationId ?? '']);
  }

  trayNameId(trayId: string): number {
    return this.#trays.idOf(trayId, [trayId]);
  }

  forget(): void {
    this.#series.forget();
    this.#remarks.forget();
    this.#trays.forget();
  }
}
