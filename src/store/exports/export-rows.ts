import { toInstant } from '../../../shared/base/ids.js';
import { MS_PER_DAY } from '../../../shared/base/time-units.js';
import { type ExportName, type ExportRow, exportRowSchemas } from '../../../shared/export-rows.js';
import type { JudgedReading } from '../../monitor/ports/facts.js';
import type { ReviewQueries, Span } from '../../monitor/ports/ports.js';
import { spokenFact } from '../../monitor/ports/spoken-fact.js';
import type { DeskSentences } from '../../watering/sentences/said/desk-sentences.js';
import { type Cell, csvRow, freeText } from './csv.js';
import { FACT_TABLES } from './fact-tables.js';

/** Facts are asked for four weeks at a time. */
const STRETCH_MS = 28 * MS_PER_DAY;

/** More than any probe or farm says in the stretch that is asked for at once. */
const ALL = 10_000_000;

/** Columns that hold what people wrote, or sentences with it inside. */
const WRITTEN_BY_PEOPLE: ReadonlySet<string> = new Set(['by', 'crop', 'medium', 'sentence', 'text']);

/** What of a store is exported. */
export interface ExportAsked {
  readonly span: Span;
  /** The farm's words, for what was said. */
  readonly say: DeskSentences;
  /** Readings of these probes only; all when absent. */
  readonly probeIds?: readonly string[] | undefined;
  /** Told how much of the span has been gone through, 0 to 1. */
  readonly onProgress?: (share: number) => void;
}

function readingRow(probeId: string, { observedAtMs, ...reading }: JudgedReading): ExportRow<'readings'> {
  const { rawValue, rawUnit, waterContentM3PerM3, flag, flagReasons, calibrationId } = reading;
  return {
    at: toInstant(observedAtMs),
    probe: probeId,
    rawValue,
    rawUnit,
    waterContentM3PerM3,
    flag,
    flagReasons: [...flagReasons],
    calibrationId,
  };
}

/** Single readings, probe after probe, a day at a time so that a year fits into little memory. */
async function* readingRows(
  queries: ReviewQueries,
  { span, probeIds, onProgress }: ExportAsked,
): AsyncGenerator<readonly ExportRow[]> {
  const probes = (await queries.probes()).filter(({ probeId }) => probeIds?.includes(probeId) ?? true);
  const ids = [...new Set(probes.map((probe) => probe.probeId))];
  for (const [index, probeId] of ids.entries()) {
    const own = probes.filter((probe) => probe.probeId === probeId);
    const fromMs = Math.max(span.fromMs, Math.min(...own.map(({ firstAtMs }) => firstAtMs)));
    const toMs = Math.min(span.toMs, Math.max(...own.map(({ lastAtMs }) => lastAtMs)) + 1);
    for (let dayMs = fromMs; dayMs < toMs; dayMs += MS_PER_DAY) {
      const day = { fromMs: dayMs, toMs: Math.min(toMs, dayMs + MS_PER_DAY) };
      yield (await queries.readings(probeId, day, ALL)).map((reading) => readingRow(probeId, reading));
      onProgress?.((index + (day.toMs - fromMs) / (toMs - fromMs)) / ids.length);
    }
  }
}

/** Facts of one table, oldest first. */
async function* factRows(
  queries: ReviewQueries,
  { span, say, onProgress }: ExportAsked,
  name: Exclude<ExportName, 'readings'>,
): AsyncGenerator<readonly ExportRow[]> {
  const { kind, rows } = FACT_TABLES[name];
  for (let fromMs = span.fromMs; fromMs < span.toMs; fromMs += STRETCH_MS) {
    const stretch = { fromMs, toMs: Math.min(span.toMs, fromMs + STRETCH_MS) };
    yield rows((await queries.facts([kind], stretch, ALL)).map((fact) => spokenFact(fact, say)));
    onProgress?.((stretch.toMs - span.fromMs) / (span.toMs - span.fromMs));
  }
}

/** Rows of one table, in pieces that fit into memory. */
function exportRows(
  queries: ReviewQueries,
  name: ExportName,
  asked: ExportAsked,
): AsyncGenerator<readonly ExportRow[]> {
  return name === 'readings' ? readingRows(queries, asked) : factRows(queries, asked, name);
}

function cellOf(column: string, value: unknown): Cell {
  if (value === null || value === undefined || typeof value === 'number' || typeof value === 'boolean')
    return value;
  if (typeof value === 'string') return WRITTEN_BY_PEOPLE.has(column) ? freeText(value) : value;
  return Array.isArray(value) ? value.join(' ') : JSON.stringify(value);
}

/** A table as CSV, its columns those of the schema. */
export async function* exportCsv(
  queries: ReviewQueries,
  name: ExportName,
  asked: ExportAsked,
): AsyncGenerator<string> {
  const columns = Object.keys(exportRowSchemas[name].shape);
  yield csvRow(columns);
  for await (const rows of exportRows(queries, name, asked)) {
    const texts = rows
      .map((row) => new Map<string, unknown>(Object.entries(row)))
      .map((row) => csvRow(columns.map((column) => cellOf(column, row.get(column)))));
    if (texts.length > 0) yield texts.join('');
  }
}

/** A table as JSON documents, one a line, each as its schema says. */
export async function* exportJsonLines(
  queries: ReviewQueries,
  name: ExportName,
  asked: ExportAsked,
): AsyncGenerator<string> {
  for await (const rows of exportRows(queries, name, asked))
    if (rows.length > 0) yield rows.map((row) => `${JSON.stringify(row)}\n`).join('');
}
