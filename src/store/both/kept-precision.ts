import type { RawUnit } from '../../../shared/facts/reading.js';

/**
 * Smallest step that the store keeps of a raw value, as steps per unit. Each is at least 25 times finer than what a probe
 * of that kind can tell apart, so that nothing measured is lost, and an ordinary value fits into three bytes:
 * - V: 1 microvolt; a 10-bit converter steps by 4.9 mV, a 16-bit one at 2.048 V by 31 uV.
 * - Cel, %RH: 0.0001; digital probes step by 0.01 or more (common practice).
 * - lx 0.01, W/m2 0.001, g 0.001.
 */
export const STEPS_PER_UNIT: Readonly<Record<RawUnit, number>> = {
  V: 1_000_000,
  Cel: 10_000,
  '%RH': 10_000,
  lx: 100,
  'W/m2': 1000,
  g: 1000,
};

/** Steps per m3/m3 of a converted water content: 1 cm3 of water in a cubic metre. */
export const WATER_CONTENT_STEPS = 1_000_000;

/** Beyond this many steps a double no longer counts single ones; such a value is kept as it is. */
const MOST_STEPS = 2 ** 52;

/** Whole steps of a value, or undefined when it is too large to be counted in steps. */
export function toSteps(value: number, stepsPerUnit: number): number | undefined {
  const steps = Math.round(value * stepsPerUnit);
  return Math.abs(steps) <= MOST_STEPS ? steps : undefined;
}
