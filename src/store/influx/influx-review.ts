import type { InfluxDB } from 'influx';
import { type Forecast, forecastSchema } from '../../../shared/facts/forecast.js';
import { rawUnitSchema } from '../../../shared/facts/reading.js';
import { BEYOND_CALIBRATION } from '../../../shared/facts/reading-belief.js';
import type { CurveSample, DryDownSummary, KeptDryDown } from '../../drying/curves/kept-dry-down.js';
import type { Fact, FactKind, JudgedReading } from '../../monitor/ports/facts.js';
import type {
  KeptForecast,
  KnownProbe,
  ReadingBucket,
  ReviewQueries,
  Span,
} from '../../monitor/ports/ports.js';
import { curveApart, keptDryDowns, withCurve } from '../both/curve-apart.js';
import { checkSpan } from '../both/span.js';
import { strikeOut } from '../both/strike-out.js';
import { mergeBuckets, spreadOf } from './buckets.js';
import { connect, type InfluxServer, questionError } from './connection.js';
import { measurementOf } from './point.js';
import { type InfluxRow, numberOf, readingOf, rowsOf, textOf } from './rows.js';

export interface InfluxReviewOptions {
  readonly server: InfluxServer;
  readonly farm: string;
  /** One monitor's history; all monitors of the farm when absent, whose probes and trays then need names of their own. */
  readonly monitor?: string | undefined;
}

const ALL_DRY_DOWNS = 1_000_000;

/** `isBelieved` as a question. */
const BEYOND_ONLY = `flagReasons = '["${BEYOND_CALIBRATION}"]'`;
const BELIEVED = `(flag < 3 OR (flag = 3 AND ${BEYOND_ONLY}))`;
const NOT_BELIEVED = `(flag > 3 OR (flag = 3 AND ${BEYOND_ONLY.replace('=', '<>')}))`;

/** Answers the farm reviewer's questions from InfluxDB, with or without a board beside it. */
export class InfluxReview implements ReviewQueries {
  readonly #influx: InfluxDB;
  readonly #server: InfluxServer;
  readonly #whose: string;

  constructor({ server, farm, monitor }: InfluxReviewOptions) {
    this.#influx = connect(server);
    this.#server = server;
    this.#whose = `farm = ${literal(farm)}${monitor === undefined ? '' : ` AND monitor = ${literal(monitor)}`}`;
  }

  /** One or more statements; rows of each, with the tags of their group. */
  async #ask(...statements: readonly string[]): Promise<readonly (readonly InfluxRow[])[]> {
    try {
      const answer: unknown = await this.#influx.queryRaw(statements.join('; '), { precision: 'ms' });
      return rowsOf(answer);
    } catch (cause) {
      throw questionError(cause, this.#server);
    }
  }

  #within(span: Span): string {
    return `${this.#whose} AND time >= ${milliseconds(span.fromMs)} AND time < ${milliseconds(span.toMs)}`;
  }

  async readingBuckets(probeId: string, span: Span, bucketCount: number): Promise<readonly ReadingBucket[]> {
    checkSpan(span, { name: 'bucketCount', value: bucketCount });
    const widthMs = Math.ceil((span.toMs - span.fromMs) / bucketCount);
    const offsetMs = ((span.fromMs % widthMs) + widthMs) % widthMs;
    const ask = (fields: readonly string[], flags: string) =>
      `SELECT ${fields.join(', ')} FROM reading WHERE ${this.#within(span)} AND probe = ${literal(probeId)} AND ${flags}
       GROUP BY time(${widthMs}ms, ${offsetMs}ms) fill(none)`;
    const count = 'count(flag) AS count';
    const [believed = [], flagged = []] = await this.#ask(
      ask([count, ...spreadOf('waterContentM3PerM3', 'water')], BELIEVED),
      ask([count], NOT_BELIEVED),
    );
    const usual = mergeBuckets([believed], [flagged]);
    if (usual.isComplete) return usual.buckets;
    const [believedRaw = [], flaggedWater = [], flaggedRaw = []] = await this.#ask(
      ask(spreadOf('rawValue', 'raw'), BELIEVED),
      ask(spreadOf('waterContentM3PerM3', 'water'), NOT_BELIEVED),
      ask(spreadOf('rawValue', 'raw'), NOT_BELIEVED),
    );
    return mergeBuckets([believed, believedRaw], [flagged, flaggedWater, flaggedRaw]).buckets;
  }

  async readings(probeId: string, span: Span, limit: number): Promise<readonly JudgedReading[]> {
    checkSpan(span, { name: 'limit', value: limit });
    const [rows = []] = await this.#ask(
      `SELECT * FROM reading WHERE ${this.#within(span)} AND probe = ${literal(probeId)} ORDER BY time DESC LIMIT ${limit}`,
    );
    return rows.map(readingOf).reverse();
  }

  async forecasts(trayId: string | undefined, span: Span): Promise<readonly KeptForecast[]> {
    checkSpan(span);
    const [rows = []] = await this.#ask(
      `SELECT tray, waterContentM3PerM3, p10H, p50H, p90H, driestTenthP50H FROM forecast
       WHERE ${this.#within(span)}${trayId === undefined ? '' : ` AND tray = ${literal(trayId)}`}`,
    );
    return rows.map((row) => ({
      atMs: numberOf(row, 'time') ?? 0,
      trayId: textOf(row, 'tray') ?? '',
      waterContentM3PerM3: numberOf(row, 'waterContentM3PerM3') ?? 0,
      p10H: numberOf(row, 'p10H') ?? null,
      p50H: numberOf(row, 'p50H') ?? null,
      p90H: numberOf(row, 'p90H') ?? null,
      driestTenthP50H: numberOf(row, 'driestTenthP50H') ?? null,
    }));
  }

  async dryDowns(span: Span): Promise<readonly KeptDryDown[]> {
    return keptDryDowns(await this.facts(['dry-down'], span, ALL_DRY_DOWNS));
  }

  async dryDownSummaries(span: Span): Promise<readonly DryDownSummary[]> {
    checkSpan(span);
    const [rows = []] = await this.#ask(`SELECT body, number FROM dry_down WHERE ${this.#within(span)}`);
    return [...rows]
      .sort(byTimeAndNumber)
      .map((row) => curveApart(factOf(row)).fact)
      .flatMap((fact) => (fact.kind === 'dry-down' ? [fact.dryDown] : []));
  }

  async latestForecasts(): Promise<readonly Forecast[]> {
    const [rows = []] = await this.#ask(
      `SELECT body FROM forecast WHERE ${this.#whose} GROUP BY tray ORDER BY time DESC LIMIT 1`,
    );
    return rows
      .map((row) => forecastSchema.parse(JSON.parse(textOf(row, 'body') ?? 'null')))
      .sort((a, b) => (a.tray < b.tray ? -1 : 1));
  }

  async probes(): Promise<readonly KnownProbe[]> {
    const ends = (which: string) =>
      `SELECT ${which}(flag) AS flag FROM reading WHERE ${this.#whose} GROUP BY probe, rawUnit`;
    const [first = [], last = []] = await this.#ask(ends('first'), ends('last'));
    const key = (row: InfluxRow) => `${textOf(row, 'probe')} ${textOf(row, 'rawUnit')}`;
    const lastMs = new Map(last.map((row) => [key(row), numberOf(row, 'time') ?? 0]));
    return first
      .map((row) => ({
        probeId: textOf(row, 'probe') ?? '',
        rawUnit: rawUnitSchema.parse(textOf(row, 'rawUnit')),
        firstAtMs: numberOf(row, 'time') ?? 0,
        lastAtMs: lastMs.get(key(row)) ?? 0,
      }))
      .sort((a, b) => (a.probeId < b.probeId ? -1 : 1));
  }

  async facts(
    kinds: readonly FactKind[],
    span: Span,
    limit: number,
    trayId?: string,
  ): Promise<readonly Fact[]> {
    checkSpan(span, { name: 'limit', value: limit });
    if (kinds.length === 0) return [];
    const wanted = new Set(kinds);
    const asked = new Set(kinds);
    if (wanted.has('tray-event') || wanted.has('watering')) asked.add('tray-event-undone');
    if (wanted.has('note')) asked.add('note-undone');
    const ofTray = trayId === undefined ? '' : ` AND tray = ${literal(trayId)}`;
    const statements = [...asked].map(
      (kind) =>
        `SELECT * FROM "${measurementOf(kind)}" WHERE ${this.#within(span)}${ofTray} ORDER BY time DESC LIMIT ${limit}`,
    );
    const rows = (await this.#ask(...statements)).flat().sort(byTimeAndNumber);
    return strikeOut(rows.map(factOf))
      .filter(({ kind }) => wanted.has(kind))
      .slice(-limit);
  }

  /** Nothing is held open between questions. */
  close(): Promise<void> {
    return Promise.resolve();
  }
}

/** Opens the history of a farm for review where no board is: `drybell review`. */
export function openInfluxReview(options: InfluxReviewOptions): ReviewQueries & { close(): Promise<void> } {
  return new InfluxReview(options);
}

function byTimeAndNumber(a: InfluxRow, b: InfluxRow): number {
  return (
    (numberOf(a, 'time') ?? 0) - (numberOf(b, 'time') ?? 0) ||
    (numberOf(a, 'number') ?? -1) - (numberOf(b, 'number') ?? -1)
  );
}

function factOf(row: InfluxRow): Fact {
  const body = textOf(row, 'body');
  if (body === undefined) return { kind: 'reading', reading: readingOf(row) };
  const kept: Fact | Forecast = JSON.parse(body);
  if (!('kind' in kept)) return { kind: 'forecast', forecast: forecastSchema.parse(kept) };
  const curve = textOf(row, 'curve');
  return curve === undefined ? kept : withCurve({ fact: kept, samples: samplesOf(JSON.parse(curve)) });
}

/** Samples from the field `curve`: hours and water content by turns. */
function samplesOf(numbers: readonly number[]): readonly CurveSample[] {
  return Array.from({ length: numbers.length / 2 }, (_, index) => ({
    elapsedH: numbers[2 * index] ?? 0,
    waterContentM3PerM3: numbers[2 * index + 1] ?? 0,
  }));
}

function literal(text: string): string {
  return `'${text.replaceAll('\\', '\\\\').replaceAll("'", "\\'")}'`;
}

/** InfluxQL's earliest and latest instants: nanoseconds in 64 bits, 1677 to 2262. */
const EARLIEST_MS = -9_223_372_036_000;
const LATEST_MS = 9_223_372_036_000;

function milliseconds(atMs: number): string {
  return `${Math.round(Math.min(LATEST_MS, Math.max(EARLIEST_MS, atMs)))}ms`;
}
