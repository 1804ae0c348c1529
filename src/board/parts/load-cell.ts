import { MS_PER_MIN } from '../../../shared/base/time-units.js';
/** A scale's two calibration values: counts when empty, and counts for each gram. */
export interface ScaleCalibration {
  readonly zeroCounts: number;
  readonly countsPerG: number;
}

/** Grams on the scale. */
export function gramsOfCounts(counts: number, { zeroCounts, countsPerG }: ScaleCalibration): number {
  return (counts - zeroCounts) / countsPerG;
}

export interface Creep {
  /** Part of a load that is added by creep in the long run; cheap single-point cells: 0.0002 to 0.001. */
  readonly share: number;
  readonly timeConstantMin: number;
}

/** Grams that the cell shows now without their being there. */
export interface CreepState {
  readonly creepG: number;
  readonly atMs: number;
}

/**
 * Takes a load cell's creep out of what it shows. Under a load L the cell creeps by share·L with one time constant
 * (the 30-minute creep test of OIML R 60 reduced to one exponential), and back when the load is taken off: without this a
 * watered tray goes on gaining for an hour. The first reading is taken as settled.
 *
 * @returns the load, g, and the state for the next call
 */
export function withoutCreep(
  shownG: number,
  atMs: number,
  before: CreepState | undefined,
  { share, timeConstantMin }: Creep,
): { readonly loadG: number; readonly state: CreepState } {
  if (before === undefined) {
    const loadG = shownG / (1 + share);
    return { loadG, state: { creepG: shownG - loadG, atMs } };
  }
  const elapsedMin = Math.max(0, atMs - before.atMs) / MS_PER_MIN;
  const approached = 1 - Math.exp(-elapsedMin / timeConstantMin);
  const loadBeforeG = shownG - before.creepG;
  const creepG = before.creepG + (share * loadBeforeG - before.creepG) * approached;
  return { loadG: shownG - creepG, state: { creepG, atMs } };
}
