import type { BoardConfig } from '../../../shared/config/kit/hookup.js';
import type { ProbeKind } from '../../../shared/config/kit/probes.js';
import type { Clock } from '../../monitor/ports/ports.js';
import type { BoardLink } from '../line/board-link.js';
import type { Answer } from '../parts/answer.js';
import type { CreepState } from '../parts/load-cell.js';

/** What a board's scale remembers from one reading to the next. */
export interface ScaleMemory {
  creep: CreepState | undefined;
}

/** What all analog readings of one power-on are measured against. */
export interface Supply {
  /** What the converter compares with, volts. */
  readonly volts: number;
  /** Top of the switched dividers over that. */
  readonly topShare: number;
}

/** What a reader works with during one sample of one board. */
export interface Bench {
  readonly link: BoardLink;
  readonly board: BoardConfig;
  /** Times settling and conversion, and stamps. */
  readonly clock: Clock;
  readonly signal: AbortSignal;
  readonly scale: ScaleMemory;
  /** Reference and top of the dividers, measured once in this power-on. */
  readonly supply: () => Promise<Answer<Supply>>;
}

/** One part read once. Values stand in their probe's raw unit: V, °C, %, lx, g. */
export interface PartReading {
  readonly values: { readonly [K in ProbeKind]?: number };
  /** Mean counts of the board's converter, or the counts of the part's own. */
  readonly counts?: number;
  readonly volts?: number;
  /** Why there is no value, although the board delivered counts. */
  readonly fault?: string;
}
