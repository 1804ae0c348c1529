import { flagSchema, rawUnitSchema } from '../../../shared/facts/reading.js';
import type { JudgedReading } from '../../monitor/ports/facts.js';

/** One row of an answer: columns and the tags of its group by name. */
export type InfluxRow = ReadonlyMap<string, unknown>;

interface Series {
  readonly tags?: Readonly<Record<string, string>>;
  readonly columns?: readonly string[];
  readonly values?: readonly (readonly unknown[])[];
}

/** The server answered, and its answer to one statement is an error. */
export class StatementError extends Error {
  override readonly name = 'StatementError';
}

/** Rows of each statement of an answer. Throws the server's own words when a statement failed. */
export function rowsOf(answer: unknown): readonly (readonly InfluxRow[])[] {
  const { results = [] }: { results?: readonly { error?: string; series?: readonly Series[] }[] } =
    Object(answer);
  return results.map(({ error, series = [] }) => {
    if (error !== undefined) throw new StatementError(error);
    return series.flatMap(({ tags = {}, columns = [], values = [] }) =>
      values.map(
        (row) =>
          new Map<string, unknown>([
            ...Object.entries(tags),
            ...columns.map((name, at) => [name, row[at]] as const),
          ]),
      ),
    );
  });
}

export function numberOf(row: InfluxRow, name: string): number | undefined {
  const value = row.get(name);
  return typeof value === 'number' ? value : undefined;
}

export function textOf(row: InfluxRow, name: string): string | undefined {
  const value = row.get(name);
  return typeof value === 'string' ? value : undefined;
}

export function readingOf(row: InfluxRow): JudgedReading {
  const reasons: unknown = JSON.parse(textOf(row, 'flagReasons') ?? '[]');
  const calibrationId: unknown = JSON.parse(textOf(row, 'calibrationId') ?? 'null');
  return {
    probeId: textOf(row, 'probe') ?? '',
    observedAtMs: numberOf(row, 'time') ?? 0,
    rawValue: numberOf(row, 'rawValue'),
    rawUnit: rawUnitSchema.parse(textOf(row, 'rawUnit')),
    waterContentM3PerM3: numberOf(row, 'waterContentM3PerM3'),
    flag: flagSchema.parse(numberOf(row, 'flag')),
    flagReasons: Array.isArray(reasons) ? reasons.map(String) : [],
    calibrationId: typeof calibrationId === 'string' ? calibrationId : undefined,
  };
}
