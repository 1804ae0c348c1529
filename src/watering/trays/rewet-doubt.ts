import { MS_PER_HOUR, MS_PER_MIN } from '../desk.js';
import type { TrayMemory } from '../desk-state.js';

/** Dry for a shorter time, medium still takes water as it should. */
const DRY_LONG_ENOUGH_MS = 30 * MS_PER_MIN;
/** A tray that lasted this long after being watered has taken its water. */
const DOUBTED_FOR_MS = 12 * MS_PER_HOUR;
/**
 * Chance that a tray which was dry took up only this share of what it was given: dry peat sheds water and wets again slowly and
 * incompletely (growers' notes; no published figures for blocks, judgement).
 */
const SHED_PROBABILITY = 0.3;
const SHED_TAKEN_SHARE = 0.4;

/** The chance that a watering was mostly shed, and the share that was taken up then. */
export interface RewetDoubt {
  readonly probability: number;
  readonly takenShare: number;
}

/** Keeps count of how long a tray has been dry; `index` is its moisture index now. */
export function noteDryness(memory: TrayMemory, index: number, nowMs: number): void {
  if (index <= 0) memory.drySinceMs ??= nowMs;
  else memory.drySinceMs = undefined;
}

/** A watering of the tray: doubted when it found the tray dry for some time. */
export function notePour(memory: TrayMemory, pouredAtMs: number): void {
  const wasDry = memory.drySinceMs !== undefined && pouredAtMs - memory.drySinceMs >= DRY_LONG_ENOUGH_MS;
  memory.rewetAtMs = wasDry ? pouredAtMs : undefined;
  memory.drySinceMs = undefined;
}

/** What is to be doubted about the last watering now; undefined when nothing. */
export function rewetDoubt(memory: TrayMemory, nowMs: number): RewetDoubt | undefined {
  const isDoubted = memory.rewetAtMs !== undefined && nowMs - memory.rewetAtMs < DOUBTED_FOR_MS;
  return isDoubted ? { probability: SHED_PROBABILITY, takenShare: SHED_TAKEN_SHARE } : undefined;
}
