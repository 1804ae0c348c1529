import type { ProbeSample } from '../../monitor/ports/ports.js';

/** A sample with what led to it, for the live view of `drybell probes`. */
export interface DetailedSample extends ProbeSample {
  /** Mean counts of the board's converter, or of the part's own. */
  readonly counts?: number | undefined;
  /** Volts at the board's input, analog probes only. */
  readonly volts?: number | undefined;
}
