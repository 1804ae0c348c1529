import { MS_PER_MIN } from '../../../shared/base/time-units.js';
import type { InfluxConfig } from '../../../shared/config/store.js';
import type { Forecast } from '../../../shared/facts/forecast.js';
import type { KeptDryDown } from '../../drying/curves/kept-dry-down.js';
import type { Fact } from '../../monitor/ports/facts.js';
import type {
  Clock,
  FactStore,
  KeptForecast,
  ReviewQueries,
  Span,
  States,
} from '../../monitor/ports/ports.js';
import { Batching, type BatchSettings, type Health } from '../both/batching.js';
import { factAtMs } from '../both/fact-index.js';
import { StoreError } from '../both/store-error.js';
import { toStoreError } from '../sqlite/file/sqlite-errors.js';
import { openSqliteStore } from '../sqlite/open-sqlite-store.js';
import { connect } from './connection.js';
import { Drain } from './drain.js';
import { InfluxReview } from './influx-review.js';
import { Spool } from './spool.js';

/** How a question to the server can fail (questionError). */
const ASKED_IN_VAIN: readonly string[] = ['database-away', 'refused'];

export interface InfluxStoreOptions extends BatchSettings {
  /** Folder of what stays on this machine: spool, states, journal, a week of readings, six of forecasts. */
  readonly folder: string;
  readonly farm: string;
  readonly influx: InfluxConfig;
  readonly clock: Clock;
  /** What to do with a damaged file on this machine; as for the embedded store. */
  readonly onDamage?: 'refuse' | 'set-aside' | undefined;
  /** 0 to 1; spreads the retries of many boards. */
  readonly random: () => number;
}

export interface InfluxStore extends FactStore, ReviewQueries {
  /** Sends what is spooled until nothing is left (true) or the server does not take it (false). */
  drain(): Promise<boolean>;
}

/** Forecasts kept on this machine; no dry-down lasts longer. */
const FORECASTS_DAYS = 45;

/** Single readings kept on this machine; roll-ups stay. */
const READINGS_DAYS = 7;

/** A server that restarts is away for a moment; health speaks of it after this long. */
const AWAY_UNSAID_MS = 60_000;

/**
 * The store that keeps its history in InfluxDB 1.x. A fact is acknowledged when it is in the spool on this machine's disk; the
 * spool drains by itself. States stay on this machine; journal, a week of readings and six weeks of forecasts are kept here as
 * well, and answer while the server is away, so that neither start nor page hangs on the network.
 */
export function openInfluxStore(options: InfluxStoreOptions): InfluxStore {
  return new SpoolingStore(options);
}

class SpoolingStore extends InfluxReview implements InfluxStore {
  readonly #here: FactStore & ReviewQueries;
  readonly #spool: Spool;
  readonly #batching: Batching;
  readonly #drain: Drain;

  constructor(options: InfluxStoreOptions) {
    const { folder, farm, influx: server, clock, random } = options;
    super({ server, farm, monitor: server.monitor });
    this.#here = openSqliteStore({
      ...options,
      folder,
      clock,
      readingsDays: READINGS_DAYS,
      forecastsDays: FORECASTS_DAYS,
    });
    this.#spool = this.#openSpool(folder, clock.nowMs(), server.spoolLimitMb);
    const atMs = (fact: Fact) => factAtMs(fact, clock.nowMs());
    this.#batching = new Batching(
      clock,
      {
        write: (facts, isUrgent) => this.#spool.put(facts, atMs, isUrgent),
        upkeep: () => undefined,
        judge: (cause) => toStoreError('write to the spool', cause),
      },
      options,
    );
    this.#drain = new Drain({
      influx: connect(server),
      spool: this.#spool,
      origin: { farm, monitor: server.monitor },
      database: server.database,
      clock,
      random,
    });
    this.#drain.start();
  }

  #openSpool(folder: string, nowMs: number, limitMb: number): Spool {
    try {
      return new Spool(folder, nowMs, limitMb);
    } catch (cause) {
      void this.#here.close();
      throw cause;
    }
  }

  async keep(facts: readonly Fact[], states?: States): Promise<boolean> {
    this.#batching.refuseWhenClosed('keep facts');
    const areHere = await this.#here.keep(facts);
    this.#batching.keep(await Promise.all(facts.map((fact) => this.#withCurve(fact))));
    const isStateHere = states === undefined || (await this.#here.keep([], states));
    return areHere && isStateHere && this.#batching.trouble === undefined;
  }

  /** A dry-down with the curve that was cut out for it here. */
  async #withCurve(fact: Fact): Promise<Fact> {
    if (fact.kind !== 'dry-down') return fact;
    const { trayId, startedAtMs, endedAtMs } = fact.dryDown;
    const ended = await this.#here.dryDowns({ fromMs: endedAtMs, toMs: endedAtMs + 1 });
    const kept = ended.find((one) => one.trayId === trayId && one.startedAtMs === startedAtMs);
    const bare: KeptDryDown = { ...fact.dryDown, samples: [] };
    return { kind: 'dry-down', dryDown: kept ?? bare };
  }

  async flush(): Promise<void> {
    await this.#here.flush();
    this.#batching.flush();
  }

  /** Tray events are this machine's own. The rest comes from the server, which has what earlier machines wrote too. */
  override async facts(...asked: Parameters<InfluxReview['facts']>): Promise<readonly Fact[]> {
    const [kinds] = asked;
    const isOwn = kinds.every((kind) => kind === 'tray-event' || kind === 'tray-event-undone');
    if (isOwn) return this.#here.facts(...asked);
    return this.#hereWhileAway(
      () => super.facts(...asked),
      () => this.#here.facts(...asked),
    );
  }

  override async latestForecasts(): Promise<readonly Forecast[]> {
    return this.#here.latestForecasts();
  }

  override async forecasts(trayId: string | undefined, span: Span): Promise<readonly KeptForecast[]> {
    return this.#hereWhileAway(
      () => super.forecasts(trayId, span),
      () => this.#here.forecasts(trayId, span),
    );
  }

  override async readingBuckets(probeId: string, span: Span, bucketCount: number) {
    return this.#hereWhileAway(
      () => super.readingBuckets(probeId, span, bucketCount),
      () => this.#here.readingBuckets(probeId, span, bucketCount),
    );
  }

  override async readings(probeId: string, span: Span, limit: number) {
    return this.#hereWhileAway(
      () => super.readings(probeId, span, limit),
      () => this.#here.readings(probeId, span, limit),
    );
  }

  override async probes() {
    return this.#hereWhileAway(
      () => super.probes(),
      () => this.#here.probes(),
    );
  }

  /** The house starts and the page goes on while the server is away, refuses us or has no database yet, with what this machine has. */
  async #hereWhileAway<T>(there: () => Promise<T>, here: () => Promise<T>): Promise<T> {
    try {
      return await there();
    } catch (cause) {
      if (cause instanceof StoreError && ASKED_IN_VAIN.includes(cause.code)) return here();
      throw cause;
    }
  }

  async drain(): Promise<boolean> {
    for (;;) {
      const result = await this.#drain.drainOnce();
      if (result !== 'more') return result === 'empty';
    }
  }

  saveState(name: string, state: unknown): Promise<void> {
    return this.#here.saveState(name, state);
  }

  loadState(name: string): Promise<unknown> {
    return this.#here.loadState(name);
  }

  setStateAside(name: string): Promise<string> {
    return this.#here.setStateAside(name);
  }

  health(): Health {
    for (const health of [this.#batching.health(), this.#here.health()]) if (!health.ok) return health;
    const waiting = `${this.#spool.waitingCount} facts wait in the spool`;
    const { trouble } = this.#drain;
    if (trouble !== undefined && trouble.failure.kind !== 'away')
      return {
        ok: false,
        reason: 'refused',
        own: ['asItIs', `${waiting}: InfluxDB refuses us (${trouble.failure.reason})`],
      };
    if (trouble !== undefined && trouble.forMs >= AWAY_UNSAID_MS)
      return {
        ok: false,
        reason: 'database-away',
        own: [
          'asItIs',
          `${waiting}: InfluxDB has not answered for ${Math.round(trouble.forMs / MS_PER_MIN)} min (${trouble.failure.reason})`,
        ],
      };
    const refused = this.#spool.quarantinedCount;
    if (refused > 0)
      return {
        ok: false,
        reason: 'quarantined',
        own: [
          'asItIs',
          `InfluxDB refused ${refused} facts, the last because: ${this.#spool.quarantined(1)[0]?.reason}. See "drybell store-check".`,
        ],
      };
    return { ok: true, reason: '' };
  }

  troubles(): readonly string[] {
    const { trouble } = this.#spool;
    return [...(this.#here.troubles?.() ?? []), ...(trouble === undefined ? [] : [trouble])];
  }

  override async close(): Promise<void> {
    await this.#drain.stop();
    try {
      await this.#batching.close(() => this.#spool.close());
    } finally {
      await this.#here.close();
    }
  }
}
