import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
/**
 * One pour has many faces: somebody tells of it, a probe shows it, a log has it. They are one pour when they lie this close: blocks wick for
 * 1.5 to 4 h (forecast notes), and log books are kept in the evening. The one rule for desk and model.
 */
export const SAME_POUR_MS = 4 * MS_PER_HOUR;

/** Whether what was told and what was shown at these instants is one pour of one tray. */
export function isSamePour(oneAtMs: number, otherAtMs: number): boolean {
  return Math.abs(oneAtMs - otherAtMs) <= SAME_POUR_MS;
}
