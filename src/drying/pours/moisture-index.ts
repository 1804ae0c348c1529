import { type Belief, spanOf } from '../filter/belief.js';
import { observeTray } from '../filter/hypotheses.js';
import { LOCAL } from '../filter/layout.js';
import { isRaw } from '../filter/probe-state.js';
import type { ScalarObservation } from '../filter/scalar-update.js';
import type { SharedState } from '../filter/shared-state.js';
import { meanLocal, type TrayState } from '../filter/tray-state.js';

/** Water between full and dry that hardly any mix falls short of, m³/m³ (judgement), and how surely. */
const USUAL_LEAST_SPAN = 0.15;
const LEAST_SPAN_SD = 0.02;
/**
 * Moisture index at which growers find a tray that they water, and how far one pour may lie from it. Rounds are the same
 * for all sizes: minis are often dry by then, blocks of 51 mm still a third full. Two virtual greenhouses, written apart, have
 * medians of -0.14 and -0.01 for minis, 0.16 and 0.22 for 38 mm, 0.22 and 0.35 for 51 mm. Taken as fresh evidence at each
 * pour: stopping where growers differ was measured to be worse.
 */
function wateredAt(blockSideMm: number): { readonly index: number; readonly sd: number } {
  const larger = Math.min(1.2, Math.max(0, Math.log(blockSideMm / 19) / Math.log(51 / 19)));
  return { index: 0.3 * larger, sd: 0.45 - 0.2 * larger };
}

/** Water of the mean block between refill point (0) and capacity (1) under one hypothesis. */
export function indexOf(belief: Belief): number {
  return ((belief.mean[LOCAL.water] as number) - (belief.mean[LOCAL.refill] as number)) / spanOf(belief);
}

/** The index of a tray as an observation: level = (θ − refill) / (capacity − refill). */
export function observeIndex(belief: Belief, index: number, sd: number): ScalarObservation {
  const refill = belief.mean[LOCAL.refill] as number;
  const span = spanOf(belief);
  const localSlope = new Float64Array(belief.mean.length);
  localSlope[LOCAL.water] = 1;
  localSlope[LOCAL.capacity] = -index;
  localSlope[LOCAL.refill] = index - 1;
  return {
    innovation: refill + index * span - (belief.mean[LOCAL.water] as number),
    localSlope,
    noiseVariance: (sd * Math.max(USUAL_LEAST_SPAN, span)) ** 2,
  };
}

/**
 * Words about how dry a tray looks must not bring its full and its dry level together: no mix calls for water right after
 * it was filled. Told to the belief as an observation while they stand closer than that.
 */
export function keepSpan(tray: TrayState, shared: SharedState): void {
  if (meanLocal(tray, LOCAL.capacity) - meanLocal(tray, LOCAL.refill) >= USUAL_LEAST_SPAN) return;
  observeTray(tray, shared, (belief) => {
    const localSlope = new Float64Array(belief.mean.length);
    localSlope[LOCAL.capacity] = 1;
    localSlope[LOCAL.refill] = -1;
    const span = (belief.mean[LOCAL.capacity] as number) - (belief.mean[LOCAL.refill] as number);
    return { innovation: USUAL_LEAST_SPAN - span, localSlope, noiseVariance: LEAST_SPAN_SD ** 2 };
  });
}

/**
 * The scale is open: a refill point that nobody configured, or a probe that nobody calibrated. Without habit, words and readings of a
 * hundred pours leave open how dry "dry" is.
 */
export function scaleIsOpen(tray: TrayState): boolean {
  return tray.spec.refillPointM3PerM3 === undefined || tray.probes.some(isRaw);
}

/**
 * A tray is being watered: it had probably come down to where growers water, and hardly far below. Told in full while the scale is
 * open; else only of a tray with a probe that is believed to stand further below than growers differ: it tells a witness far drier
 * than its tray from a tray that has been dry for days. That a tray had come down is no news where the house itself has asked to
 * water it, and that one without a probe may have stood higher biases its rate (both measured, `decisions/tried-and-measured.md`).
 */
export function recallHabit(tray: TrayState, shared: SharedState): void {
  const { index, sd } = wateredAt(tray.spec.blockSideMm);
  const believed = tray.beliefs.reduce((sum, belief) => sum + belief.weight * indexOf(belief), 0);
  const isNews = tray.probes.length > 0 && believed < index - sd;
  if (!scaleIsOpen(tray) && !isNews) return;
  observeTray(tray, shared, (belief) => observeIndex(belief, index, sd));
  keepSpan(tray, shared);
}
