import type { BoardConfig } from '../../../shared/config/hookup.js';
import type { ProbeKind } from '../../../shared/config/probes.js';
import type { Clock } from '../../monitor/ports.js';
import type { BoardLink } from '../line/board-link.js';
import type { CreepState } from '../parts/load-cell.js';

/** What a board's scale remembers from one reading to the next. */
export interface ScaleMemory {
  creep: CreepState | undefined;
}

/** What a reader works with during one sample of one board. */
export interface Bench {
  readonly link: BoardLink;
  readonly board: BoardConfig;
  /** Times settling and conversion, and stamps. */
  readonly clock: Clock;
  readonly signal: AbortSignal;
  readonly scale: ScaleMemory;
}

/** One part read once. Values stand in their probe's raw unit: V, °C, %, lx, g. */
export interface PartReading {
  readonly values: { readonly [K in ProbeKind]?: number };
  /** Median counts of the board's converter, or the counts of the part's own. */
  readonly counts?: number;
  readonly volts?: number;
}
