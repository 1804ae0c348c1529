import type { RandomSource } from './random-source.js';

/** A value that wanders about zero and forgets over a time constant. */
export interface WanderingValue {
  readonly value: number;
  /** Moves on by `elapsedH` hours (0 or more) and returns the new value. */
  advance(elapsedH: number): number;
}

/**
 * Ornstein-Uhlenbeck process with exact discretisation (Uhlenbeck & Ornstein 1930): any step length gives the same
 * statistics, so a probe read every 10 s and one read every 15 min have the same errors.
 * @param sd standard deviation in the long run, in the unit of the value
 * @param memoryH time constant, hours, above 0
 */
export function createWanderingValue(sd: number, memoryH: number, random: RandomSource): WanderingValue {
  let value = random.normal(0, sd);
  return {
    get value() {
      return value;
    },
    advance: (elapsedH) => {
      const kept = Math.exp(-elapsedH / memoryH);
      value = value * kept + random.normal(0, sd * Math.sqrt(1 - kept * kept));
      return value;
    },
  };
}
