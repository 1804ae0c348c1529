import type { FaultHouse } from '../fault-house.js';
import type { Need } from '../house-parts.js';

/** What a harm is done with. */
export interface Means {
  readonly random: () => number;
  /** Sets the program's wall clock so many seconds off the machine's (libfaketime). */
  readonly setClock: (offsetS: number) => void;
}

export interface Harm {
  readonly name: string;
  readonly needs: readonly Need[];
  /** What must still be found afterwards: all, or what a damaged file left. */
  readonly spares: 'all' | 'what-is-legible';
  /** Environment of the program, beside the test's. */
  readonly env?: NodeJS.ProcessEnv;
  /** Does it, and ends it again. */
  do(house: FaultHouse, means: Means): Promise<void>;
}

/** How long a harm lasts, ms: long enough to be noticed, short enough for many. */
export const span = (random: () => number): number => 500 + 2_500 * random();

export const signal = (house: FaultHouse, name: NodeJS.Signals) => process.kill(house.monitor.pid, name);
