import { parseInstantMs } from '../monitor/instant.js';
import { type RejectedRow, readCsvTable } from './csv-table.js';

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

const number = /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/;
const missing = new Set(['', 'null', 'NA', 'NaN', 'nan']);

class GrowingColumns {
  count = 0;
  private capacity = 1 << 16;
  atMs = new Float64Array(this.capacity);
  probe = new Uint16Array(this.capacity);
  value = new Float64Array(this.capacity);

  push(atMs: number, probe: number, value: number): void {
    if (this.count === this.capacity) this.grow();
    this.atMs[this.count] = atMs;
    this.probe[this.count] = probe;
    this.value[this.count] = value;
    this.count += 1;
  }

  private grow(): void {
    this.capacity *= 2;
    const grown = {
      atMs: new Float64Array(this.capacity),
      probe: new Uint16Array(this.capacity),
      value: new Float64Array(this.capacity),
    };
    grown.atMs.set(this.atMs);
    grown.probe.set(this.probe);
    grown.value.set(this.value);
    Object.assign(this, grown);
  }
}

function sortedByTime(columns: GrowingColumns, probeIds: readonly string[]): RecordedReadings {
  const { count } = columns;
  let ordered = true;
  for (let i = 1; i < count && ordered; i++) ordered = (columns.atMs[i] ?? 0) >= (columns.atMs[i - 1] ?? 0);
  const asRead = {
    count,
    atMs: columns.atMs.subarray(0, count),
    probe: columns.probe.subarray(0, count),
    value: columns.value.subarray(0, count),
    probeIds,
  };
  if (ordered) return asRead;
  const order = Uint32Array.from({ length: count }, (_, i) => i).sort(
    (a, b) => (asRead.atMs[a] ?? 0) - (asRead.atMs[b] ?? 0) || a - b,
  );
  return {
    count,
    atMs: Float64Array.from(order, (i) => asRead.atMs[i] ?? 0),
    probe: Uint16Array.from(order, (i) => asRead.probe[i] ?? 0),
    value: Float64Array.from(order, (i) => asRead.value[i] ?? 0),
    probeIds,
  };
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
      if (atMs === undefined)
        return onReject({ file, row, reason: `time "${time}" is not RFC 3339 (2026-04-18T07:00:00Z)` });
      const index = indexOf.get(probe);
      if (index === undefined)
        return onReject({ file, row, reason: `probe "${probe}" is not in the configuration` });
      const isMissing = missing.has(text);
      if (!isMissing && !number.test(text))
        return onReject({ file, row, reason: `value "${text}" is not a number` });
      columns.push(atMs, index, isMissing ? Number.NaN : Number(text));
    },
    onReject,
  );
  return sortedByTime(columns, probeIds);
}
