import type { DryDownSummary, KeptDryDown } from '../../drying/curves/kept-dry-down.js';
import type { Database } from '../../host/disk/sqlite.js';
import type { Fact, FactKind, JudgedReading } from '../../monitor/ports/facts.js';
import type { KnownProbe, ReadingBucket, ReviewQueries, Span } from '../../monitor/ports/ports.js';
import { ChartFold } from '../both/bucket-fold.js';
import { keptDryDowns } from '../both/curve-apart.js';
import { factAtMs } from '../both/fact-index.js';
import { checkSpan } from '../both/span.js';
import { readDryDownSummaries, readFacts } from './tables/fact-table.js';
import { foldRawRows } from './tables/fold-raw-rows.js';
import { readForecasts, readKeptForecasts, readLatestForecasts } from './tables/forecast-table.js';
import { Marks } from './tables/marks.js';
import { readProbes } from './tables/probe-list.js';
import { readReadings, seriesIdsOf } from './tables/reading-table.js';
import { ROLL_UP_LEVELS, type RollUpLevel, readRollUps } from './tables/roll-ups.js';

/** A bucket should hold at least this many roll-up steps, so that its edges are off by a quarter of it at most. */
const STEPS_PER_BUCKET = 4;

const ALL_DRY_DOWNS = 1_000_000;

/** Answers the farm reviewer's questions from an open database. */
export class SqliteReview implements ReviewQueries {
  readonly #db: Database;
  readonly #marks: Marks;

  constructor(db: Database) {
    this.#db = db;
    this.#marks = new Marks(db);
  }

  async readingBuckets(probeId: string, span: Span, bucketCount: number): Promise<readonly ReadingBucket[]> {
    checkSpan(span, { name: 'bucketCount', value: bucketCount });
    const seriesIds = seriesIdsOf(this.#db, probeId);
    if (seriesIds.length === 0) return [];
    const level = this.#levelFor(span, bucketCount);
    const chart = new ChartFold(span, bucketCount, level?.stepMs);
    let rawFromMs = span.fromMs;
    if (level !== undefined) {
      const rolledUntilMs = this.#marks.get('rolled-until-ms') ?? span.fromMs;
      const untilMs = Math.min(span.toMs, rolledUntilMs);
      if (untilMs > span.fromMs) {
        for (const row of readRollUps(this.#db, level, seriesIds, span.fromMs, untilMs))
          chart.at(row.step * level.stepMs).addFolded(row);
        rawFromMs = untilMs;
      }
    }
    if (rawFromMs < span.toMs)
      foldRawRows(this.#db, { fromMs: rawFromMs, toMs: span.toMs }, seriesIds, (_, atMs) => chart.at(atMs));
    return chart.buckets();
  }

  /** The coarsest roll-up that is fine enough, and at least the finest one where single readings are gone. */
  #levelFor(span: Span, bucketCount: number): RollUpLevel | undefined {
    const widthMs = (span.toMs - span.fromMs) / bucketCount;
    const fitting = ROLL_UP_LEVELS.filter(({ stepMs }) => widthMs >= STEPS_PER_BUCKET * stepMs).at(-1);
    if (fitting !== undefined) return fitting;
    const keptFromMs = this.#marks.get('readings-kept-from-ms') ?? Number.NEGATIVE_INFINITY;
    return span.fromMs < keptFromMs ? ROLL_UP_LEVELS[0] : undefined;
  }

  async readings(probeId: string, span: Span, limit: number): Promise<readonly JudgedReading[]> {
    checkSpan(span, { name: 'limit', value: limit });
    return readReadings(this.#db, probeId, span, limit);
  }

  async forecasts(trayId: string | undefined, span: Span) {
    checkSpan(span);
    return readKeptForecasts(this.#db, trayId, span);
  }

  async dryDowns(span: Span): Promise<readonly KeptDryDown[]> {
    checkSpan(span);
    return keptDryDowns(readFacts(this.#db, ['dry-down'], span, ALL_DRY_DOWNS));
  }

  async dryDownSummaries(span: Span): Promise<readonly DryDownSummary[]> {
    checkSpan(span);
    return readDryDownSummaries(this.#db, span);
  }

  async latestForecasts() {
    return readLatestForecasts(this.#db);
  }

  async probes(): Promise<readonly KnownProbe[]> {
    return readProbes(this.#db);
  }

  async facts(
    kinds: readonly FactKind[],
    span: Span,
    limit: number,
    trayId?: string,
  ): Promise<readonly Fact[]> {
    checkSpan(span, { name: 'limit', value: limit });
    const journal = readFacts(this.#db, kinds, span, limit, trayId);
    if (!kinds.includes('forecast') && !kinds.includes('reading')) return journal;
    const facts: Fact[] = [...journal];
    if (kinds.includes('forecast'))
      facts.push(
        ...readForecasts(this.#db, span, limit).map((forecast): Fact => ({ kind: 'forecast', forecast })),
      );
    if (kinds.includes('reading'))
      for (const probeId of new Set(readProbes(this.#db).map((probe) => probe.probeId)))
        facts.push(
          ...readReadings(this.#db, probeId, span, limit).map(
            (reading): Fact => ({ kind: 'reading', reading }),
          ),
        );
    return facts.sort((a, b) => factAtMs(a, span.toMs) - factAtMs(b, span.toMs)).slice(-limit);
  }
}
