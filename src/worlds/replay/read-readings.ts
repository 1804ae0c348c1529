import { toInstant } from '../../../shared/base/ids.js';
import { parseInstantMs } from '../../monitor/time/instant.js';
import { DECIMAL_COMMA_HINT, type RejectedRow, readCsvTable } from './csv-table.js';
import { LONGEST_GAP_DAYS, mainStretch } from './main-stretch.js';

/** Recorded readings in columns, sorted by time (stable): millions of rows fit in memory. */
export interface RecordedReadings {
  readonly count: number;
  readonly atMs: Float64Array;
  /** Index into `probeIds`. */
  readonly probe: Uint16Array;
  /** Raw value; NaN where the cell was empty (the logger wrote that the probe did not answer). */
  readonly value: Float64Array;
  readonly probeIds: readonly string[];
}

interface Columns {
  readonly atMs: Float64Array;
  readonly probe: Uint16Array;
  readonly value: Float64Array;
  /** Line of the file, header = 1. */
  readonly row: Uint32Array;
}

function emptyColumns(capacity: number): Columns {
  return {
    atMs: new Float64Array(capacity),
    probe: new Uint16Array(capacity),
    value: new Float64Array(capacity),
    row: new Uint32Array(capacity),
  };
}

const number = /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/;
const decimalComma = /^[+-]?\d+,\d+$/;
const missing = new Set(['', 'null', 'NA', 'NaN', 'nan']);

class GrowingColumns {
  count = 0;
  private capacity = 1 << 16;
  private columns = emptyColumns(this.capacity);

  push(atMs: number, probe: number, value: number, row: number): void {
    if (this.count === this.capacity) this.grow();
    const { columns, count } = this;
    columns.atMs[count] = atMs;
    columns.probe[count] = probe;
    columns.value[count] = value;
    columns.row[count] = row;
    this.count += 1;
  }

  /** The rows in the order of time, those of one instant in the order of the file. */
  sorted(): Columns {
    const { atMs, probe, value, row } = this.columns;
    const order = Uint32Array.from({ length: this.count }, (_, i) => i);
    let ordered = true;
    for (let i = 1; i < this.count && ordered; i++) ordered = (atMs[i] ?? 0) >= (atMs[i - 1] ?? 0);
    if (!ordered) order.sort((a, b) => (atMs[a] ?? 0) - (atMs[b] ?? 0) || a - b);
    return {
      atMs: Float64Array.from(order, (i) => atMs[i] ?? 0),
      probe: Uint16Array.from(order, (i) => probe[i] ?? 0),
      value: Float64Array.from(order, (i) => value[i] ?? 0),
      row: Uint32Array.from(order, (i) => row[i] ?? 0),
    };
  }

  private grow(): void {
    this.capacity *= 2;
    const grown = emptyColumns(this.capacity);
    grown.atMs.set(this.columns.atMs);
    grown.probe.set(this.columns.probe);
    grown.value.set(this.columns.value);
    grown.row.set(this.columns.row);
    this.columns = grown;
  }
}

/** Leaves out what stands years away from most rows; `columns` are sorted by time. */
function withinStretch(columns: Columns, onStray: (row: number, atMs: number) => void): Columns {
  const { from, to } = mainStretch(columns.atMs);
  columns.atMs.forEach((atMs, i) => {
    if (i < from || i >= to) onStray(columns.row[i] ?? 0, atMs);
  });
  return {
    atMs: columns.atMs.subarray(from, to),
    probe: columns.probe.subarray(from, to),
    value: columns.value.subarray(from, to),
    row: columns.row.subarray(from, to),
  };
}

/**
 * Leaves out what stands twice: of several rows of one probe at one instant the first in the file counts. Works in
 * place on sorted columns and returns how many rows are left.
 */
function dropDoubles(columns: Columns, onDouble: (row: number, before: number) => void): number {
  const { atMs, probe, value, row } = columns;
  const latest = new Map<number, { readonly atMs: number; readonly row: number }>();
  let kept = 0;
  for (let i = 0; i < atMs.length; i++) {
    const [at, which, line] = [atMs[i] ?? 0, probe[i] ?? 0, row[i] ?? 0];
    const before = latest.get(which);
    if (before?.atMs === at) {
      onDouble(line, before.row);
      continue;
    }
    latest.set(which, { atMs: at, row: line });
    atMs[kept] = at;
    probe[kept] = which;
    value[kept] = value[i] ?? Number.NaN;
    kept += 1;
  }
  return kept;
}

/**
 * Reads `time,probe,value`: RFC 3339 times, values in each probe's raw unit. Rows that can't be used are reported and
 * left out. Throws RecordingError when the file or its header can't be used.
 */
export async function readReadings(
  file: string,
  probeIds: readonly string[],
  onReject: (row: RejectedRow) => void,
): Promise<RecordedReadings> {
  const indexOf = new Map(probeIds.map((id, index) => [id, index]));
  const columns = new GrowingColumns();
  await readCsvTable(
    file,
    { required: ['time', 'probe', 'value'], optional: [] },
    ([time = '', probe = '', text = ''], row) => {
      const atMs = parseInstantMs(time);
      if (atMs === undefined) return `time "${time}" is not RFC 3339 (2026-04-18T07:00:00Z)`;
      const index = indexOf.get(probe);
      if (index === undefined) return `probe "${probe}" is not in the configuration`;
      const isMissing = missing.has(text);
      const value = isMissing ? Number.NaN : number.test(text) ? Number(text) : undefined;
      if (value === undefined || (!isMissing && !Number.isFinite(value)))
        return `value "${text}" is not a number${decimalComma.test(text) ? `; ${DECIMAL_COMMA_HINT}` : ''}`;
      columns.push(atMs, index, value, row);
      return undefined;
    },
    onReject,
  );
  const sorted = withinStretch(columns.sorted(), (row, atMs) =>
    onReject({
      file,
      row,
      reason: `${toInstant(atMs)} lies more than ${LONGEST_GAP_DAYS} days from the rest of the recording; was the logger's clock right?`,
    }),
  );
  const count = dropDoubles(sorted, (row, before) =>
    onReject({ file, row, reason: `has the probe and time of row ${before}, which counts` }),
  );
  return {
    count,
    atMs: sorted.atMs.subarray(0, count),
    probe: sorted.probe.subarray(0, count),
    value: sorted.value.subarray(0, count),
    probeIds,
  };
}
