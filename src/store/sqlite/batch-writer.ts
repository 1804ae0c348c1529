import { isBelieved } from '../../../shared/facts/reading-belief.js';
import { cutDryDown } from '../../drying/curves/cut-dry-down.js';
import type { DryDown } from '../../drying/model/farm-model.js';
import type { Database } from '../../host/disk/sqlite.js';
import type { Fact, JudgedReading } from '../../monitor/ports/facts.js';
import { BucketFold } from '../both/bucket-fold.js';
import { factAtMs } from '../both/fact-index.js';
import { FactWriter, readStandingEvents } from './tables/fact-table.js';
import { ForecastWriter, readCourse } from './tables/forecast-table.js';
import { Marks } from './tables/marks.js';
import { Names } from './tables/names.js';
import { ReadingWriter } from './tables/reading-table.js';
import { HOUR_MS, RollUps } from './tables/roll-ups.js';
import { StateTable } from './tables/state-table.js';

/** Writes batches of facts, each in one transaction: all of it or nothing. */
export class BatchWriter {
  readonly #db: Database;
  readonly #names: Names;
  readonly #readings: ReadingWriter;
  readonly #forecasts: ForecastWriter;
  readonly #facts: FactWriter;
  readonly #marks: Marks;
  readonly #rollUps: RollUps;
  readonly #writeAll: (facts: readonly Fact[], nowMs: number, states: ReadonlyMap<string, string>) => void;
  readonly #states: StateTable;
  #isFull = true;
  #hasUnsynced = false;

  constructor(db: Database) {
    this.#db = db;
    this.#names = new Names(db);
    this.#readings = new ReadingWriter(db, this.#names);
    this.#forecasts = new ForecastWriter(db, this.#names);
    this.#facts = new FactWriter(db);
    this.#marks = new Marks(db);
    this.#rollUps = new RollUps(db, this.#marks);
    this.#states = new StateTable(db);
    this.#writeAll = db.transaction(
      (facts: readonly Fact[], nowMs: number, states: ReadonlyMap<string, string>) => {
        this.#putAll(facts, nowMs);
        for (const [name, body] of states) this.#states.save(name, body, nowMs);
      },
    );
  }

  /**
   * Durable when it returns if `isUrgent` (the log is synced to the disk); else it survives the process at once, and a power
   * cut after the next urgent batch or checkpoint. `states`, name to JSON, are saved in the same transaction, always synced.
   */
  write(
    facts: readonly Fact[],
    nowMs: number,
    isUrgent: boolean,
    states: ReadonlyMap<string, string> = new Map(),
  ): void {
    if (facts.length === 0 && states.size === 0 && !(isUrgent && this.#hasUnsynced)) return;
    const isSynced = isUrgent || states.size > 0;
    this.#setSynchronous(isSynced);
    try {
      this.#writeAll(facts, nowMs, states);
    } catch (cause) {
      this.#names.forget();
      throw cause;
    }
    this.#hasUnsynced = !isSynced;
  }

  saveState(name: string, body: string, nowMs: number): void {
    this.#setSynchronous(true);
    this.#states.save(name, body, nowMs);
    this.#hasUnsynced = false;
  }

  /** Does work of a few rows so that it is on the disk when this returns. */
  synced(work: () => void): void {
    this.#setSynchronous(true);
    work();
    this.#hasUnsynced = false;
  }

  setStateAside(name: string, nowMs: number): string {
    return this.#states.setAside(name, nowMs);
  }

  #setSynchronous(isFull: boolean): void {
    if (this.#isFull === isFull) return;
    this.#db.pragma(`synchronous = ${isFull ? 'FULL' : 'NORMAL'}`);
    this.#isFull = isFull;
  }

  #putAll(facts: readonly Fact[], nowMs: number): void {
    if (facts.length === 0) this.#marks.set('synced-at-ms', nowMs);
    const rolledUntilMs = this.#rollUps.rolledUntilMs() ?? Number.NEGATIVE_INFINITY;
    const keptFromMs = this.#marks.get('readings-kept-from-ms') ?? Number.NEGATIVE_INFINITY;
    const late = new Map<string, { readonly seriesId: number; readonly atMs: number }>();
    let newestMs = Number.NEGATIVE_INFINITY;
    for (const fact of facts) {
      if (fact.kind === 'reading') {
        const { reading } = fact;
        const atMs = reading.observedAtMs;
        if (atMs < keptFromMs) {
          this.#addToOld(reading);
          continue;
        }
        const seriesId = this.#readings.put(reading);
        if (atMs > newestMs) newestMs = atMs;
        if (atMs < rolledUntilMs) late.set(`${seriesId} ${Math.floor(atMs / HOUR_MS)}`, { seriesId, atMs });
      } else if (fact.kind === 'forecast') this.#forecasts.put(fact.forecast);
      else if (fact.kind === 'dry-down')
        this.#facts.put({ kind: 'dry-down', dryDown: this.#cut(fact.dryDown) }, fact.dryDown.endedAtMs);
      else this.#facts.put(fact, factAtMs(fact, nowMs));
    }
    for (const { seriesId, atMs } of late.values()) this.#rollUps.correct(seriesId, atMs);
    if (newestMs > rolledUntilMs) this.#rollUps.rollUp(Math.min(newestMs, nowMs));
  }

  #addToOld(reading: JudgedReading): void {
    const fold = new BucketFold();
    fold.addReading(
      isBelieved(reading.flag, reading.flagReasons),
      reading.waterContentM3PerM3,
      reading.rawValue,
    );
    const seriesId = this.#names.seriesId(reading.probeId, reading.rawUnit);
    this.#rollUps.addToOld(seriesId, reading.observedAtMs, fold.folded());
  }

  #cut(dryDown: DryDown) {
    return cutDryDown(
      dryDown,
      readStandingEvents(this.#db, dryDown.trayId),
      readCourse(this.#db, dryDown.trayId, dryDown.startedAtMs, dryDown.endedAtMs),
    );
  }
}
