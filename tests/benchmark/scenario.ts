import type { FarmConfig } from '../../shared/config/farm.js';
import type { BenchHistory } from './bench-history.js';

/** One row of the grower's log, as replay reads it. */
export interface LogRow {
  readonly atMs: number;
  readonly tray: string;
  readonly event: 'watered' | 'covered' | 'uncovered' | 'germinated' | 'moved' | 'looked';
  readonly ml?: number;
  readonly bench?: string;
  readonly level?: 1 | 2 | 3 | 4 | 5;
}

/** Recorded readings in the order of time, one array per column. */
export interface RecordedColumns {
  readonly probeIds: readonly string[];
  readonly atMs: Float64Array;
  /** Index into `probeIds`. */
  readonly probe: Uint16Array;
  readonly value: Float64Array;
  readonly count: number;
}

/** A pour as it really was, told or not. */
export interface TruePour {
  readonly trayId: string;
  readonly atMs: number;
}

/** What everybody sees (config, readings, log) and, apart from it, the truth. */
export interface Scenario {
  readonly kind: string;
  readonly seed: number;
  readonly config: FarmConfig;
  readonly startMs: number;
  readonly endMs: number;
  readonly readings: RecordedColumns;
  readonly log: readonly LogRow[];
  readonly truth: {
    readonly history: BenchHistory;
    readonly pours: readonly TruePour[];
    readonly refillPointM3PerM3: ReadonlyMap<string, number>;
    /** By tray and full hour: the bench's own physics from its own state, yesterday's air again; empty unless asked for. */
    readonly ownPhysicsH: ReadonlyMap<string, ReadonlyMap<number, number>>;
  };
}
