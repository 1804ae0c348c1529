import { toInstant } from '../../../shared/base/ids.js';
import type { ReviewQueries, Span } from '../../monitor/ports/ports.js';
import { csvRow } from './csv.js';
import { FACT_TABLES, type FactTable, type FactTableName } from './fact-tables.js';

const MS_PER_DAY = 86_400_000;

/** Facts are asked for four weeks at a time. */
const STRETCH_MS = 28 * MS_PER_DAY;

/** More than any probe or farm says in the stretch that is asked for at once. */
const ALL = 10_000_000;

const readingColumns = [
  'at',
  'probe',
  'rawValue',
  'rawUnit',
  'waterContentM3PerM3',
  'flag',
  'flagReasons',
  'calibrationId',
];

/** Single readings as CSV, probe after probe, a day at a time so that a year fits into little memory. */
export async function* readingsCsv(
  queries: ReviewQueries,
  span: Span,
  probeIds: readonly string[] | undefined,
): AsyncGenerator<string> {
  yield csvRow(readingColumns);
  const probes = (await queries.probes()).filter(({ probeId }) => probeIds?.includes(probeId) ?? true);
  for (const probeId of new Set(probes.map((probe) => probe.probeId))) {
    const own = probes.filter((probe) => probe.probeId === probeId);
    const fromMs = Math.max(span.fromMs, Math.min(...own.map(({ firstAtMs }) => firstAtMs)));
    const toMs = Math.min(span.toMs, Math.max(...own.map(({ lastAtMs }) => lastAtMs)) + 1);
    for (let dayMs = fromMs; dayMs < toMs; dayMs += MS_PER_DAY) {
      const day = { fromMs: dayMs, toMs: Math.min(toMs, dayMs + MS_PER_DAY) };
      const rows = (await queries.readings(probeId, day, ALL)).map((reading) =>
        csvRow([
          toInstant(reading.observedAtMs),
          probeId,
          reading.rawValue,
          reading.rawUnit,
          reading.waterContentM3PerM3,
          reading.flag,
          reading.flagReasons.join(' '),
          reading.calibrationId,
        ]),
      );
      if (rows.length > 0) yield rows.join('');
    }
  }
}

/** Facts of one table as CSV, oldest first. */
export async function* factsCsv(
  queries: ReviewQueries,
  span: Span,
  name: FactTableName,
): AsyncGenerator<string> {
  const { kind, columns, rows }: FactTable = FACT_TABLES[name];
  yield csvRow(columns);
  for (let fromMs = span.fromMs; fromMs < span.toMs; fromMs += STRETCH_MS) {
    const stretch = { fromMs, toMs: Math.min(span.toMs, fromMs + STRETCH_MS) };
    const facts = await queries.facts([kind], stretch, ALL);
    if (facts.length > 0) yield facts.flatMap((fact) => rows(fact).map(csvRow)).join('');
  }
}
