import type { Belief } from './belief.js';
import { LOCAL, PROBE, PROBE_WIDTH, TRAY_WIDTH } from './layout.js';
import { innovationVariance, type ScalarObservation, scalarUpdate } from './scalar-update.js';
import type { SharedState } from './shared-state.js';
import { settleTray, type TrayState } from './tray-state.js';

/** Hypotheses a tray carries at most, and the least weight one may have. */
const MOST_HYPOTHESES = 5;
const LEAST_WEIGHT = 0.01;
/** Shared factors learn from a tray only while one hypothesis has this much of the weight. */
const TEACHING_WEIGHT = 0.7;
/** A reading this many standard deviations off under every hypothesis is not believed. */
export const GATE_SD = 4;
/** Evidence of one reading is tempered: successive readings repeat each other's errors. */
const LOG_EVIDENCE_SHARE = 0.35;

export type ReadingVerdict = 'believed' | 'rejected';

/** Updates all hypotheses of a settled tray by one observation, their weights by how well each foretold it. The tray is settled after it, the others are not. */
export function observeTray(
  tray: TrayState,
  shared: SharedState,
  observe: (belief: Belief) => ScalarObservation,
): ReadingVerdict {
  const seen = tray.beliefs.map((belief) => {
    const observation = observe(belief);
    const variance = innovationVariance(belief, tray.links, shared, observation);
    return { belief, observation, variance, offSd: Math.abs(observation.innovation) / Math.sqrt(variance) };
  });
  if (seen.every((one) => !(one.offSd <= GATE_SD))) return 'rejected';
  if (seen.length > 1) {
    let total = 0;
    for (const { belief, variance, offSd } of seen) {
      const logEvidence = -(Math.min(offSd, GATE_SD) ** 2 + Math.log(variance)) / 2;
      belief.weight *= Math.exp(LOG_EVIDENCE_SHARE * logEvidence);
      total += belief.weight;
    }
    for (const { belief } of seen) belief.weight /= total;
  }
  const leader = seen.reduce((best, one) => (one.belief.weight > best.belief.weight ? one : best));
  for (const one of seen) {
    if (one.offSd > GATE_SD) continue;
    if (one === leader) continue;
    scalarUpdate(one.belief, tray.links, shared, one.observation, false);
  }
  if (leader.offSd <= GATE_SD)
    scalarUpdate(
      leader.belief,
      tray.links,
      shared,
      leader.observation,
      leader.belief.weight >= TEACHING_WEIGHT,
    );
  settleTray(tray, shared);
  if (tray.beliefs.length > 1) {
    tray.beliefs = mergeAlike(tray, tray.beliefs);
    pruneHypotheses(tray);
  }
  return 'believed';
}

/** Drops what has become negligible, keeps the heaviest, and makes the weights sum to 1. */
export function pruneHypotheses(tray: TrayState): void {
  const heaviest = [...tray.beliefs].sort((a, b) => b.weight - a.weight).slice(0, MOST_HYPOTHESES);
  const kept = heaviest.filter((belief, i) => i === 0 || belief.weight >= LEAST_WEIGHT);
  const total = kept.reduce((sum, belief) => sum + belief.weight, 0);
  for (const belief of kept) belief.weight = total > 0 ? belief.weight / total : 1 / kept.length;
  tray.beliefs = kept;
}

/** Hypotheses that stand closer than this are one, m³/m³ or in standard deviations. */
const ALIKE = { water: 0.012, sds: 0.5, bias: 0.03 } as const;

/** Joins hypotheses that have come to stand at the same water and the same probe offsets: the heavier keeps both weights. */
export function mergeAlike(tray: TrayState, beliefs: readonly Belief[]): Belief[] {
  const merged: Belief[] = [];
  for (const belief of [...beliefs].sort((a, b) => b.weight - a.weight)) {
    const n = belief.mean.length;
    const apart = (other: Belief, component: number): number =>
      Math.abs((other.mean[component] as number) - (belief.mean[component] as number));
    const sdOf = (one: Belief, component: number): number =>
      Math.sqrt(one.covariance[component * n + component] as number);
    const alike = merged.find(
      (other) =>
        apart(other, LOCAL.water) <
          Math.max(ALIKE.water, ALIKE.sds * Math.min(sdOf(other, LOCAL.water), sdOf(belief, LOCAL.water))) &&
        tray.probes.every(({ slot }) => {
          const bias = TRAY_WIDTH + slot * PROBE_WIDTH + PROBE.bias;
          return apart(other, bias) < ALIKE.sds * sdOf(other, bias) + ALIKE.bias;
        }),
    );
    if (alike === undefined) merged.push(belief);
    else {
      const both = alike.weight + belief.weight;
      alike.shedding = (alike.shedding * alike.weight + belief.shedding * belief.weight) / both;
      alike.weight = both;
    }
  }
  return merged;
}
