import { LOCAL } from './layout.js';
import type { SharedState, SharedWander } from './shared-state.js';

/**
 * Belief about one tray under one hypothesis, as a Gaussian GIVEN the shared components the tray is linked to:
 *
 *     local | shared  ~  N(mean + onShared (shared − centre), covariance)
 *
 * Trays are independent of each other given what they share, so the farm's joint Gaussian is the shared one and one of
 * these per tray: exact for the updates below, and its cost grows with the number of trays, not with its square.
 */
export interface Belief {
  /** Probability of this hypothesis among the tray's, 0 to 1. */
  weight: number;
  /** How far gone the blocks were since they were last wet through, 0 to 1: dry peat sheds water until then. */
  shedding: number;
  mean: Float64Array;
  /** Rows: local components; columns: the tray's links. */
  onShared: Float64Array;
  covariance: Float64Array;
  /** Means of the links at which `mean` holds. */
  centre: Float64Array;
}

export function newBelief(localCount: number, links: Int32Array, shared: SharedState): Belief {
  return {
    weight: 1,
    shedding: 0,
    mean: new Float64Array(localCount),
    onShared: new Float64Array(localCount * links.length),
    covariance: new Float64Array(localCount * localCount),
    centre: Float64Array.from(links, (index) => shared.meanOf(index)),
  };
}

export function copyBelief(belief: Belief): Belief {
  return {
    weight: belief.weight,
    shedding: belief.shedding,
    mean: belief.mean.slice(),
    onShared: belief.onShared.slice(),
    covariance: belief.covariance.slice(),
    centre: belief.centre.slice(),
  };
}

/** Water between full and dry that is reckoned with at the least, m³/m³: levels that are still being learned may cross. */
export const LEAST_SPAN = 0.05;

export function spanOf({ mean }: Belief): number {
  return Math.max(LEAST_SPAN, (mean[LOCAL.capacity] as number) - (mean[LOCAL.refill] as number));
}

/** Carries the mean to where the shared components stand now. */
export function recentre(belief: Belief, links: Int32Array, shared: SharedState): void {
  const width = links.length;
  for (let k = 0; k < width; k++) {
    const now = shared.mean[links[k] as number] as number;
    const move = now - (belief.centre[k] as number);
    if (move === 0) continue;
    for (let i = 0; i < belief.mean.length; i++)
      belief.mean[i] = (belief.mean[i] as number) + (belief.onShared[i * width + k] as number) * move;
    belief.centre[k] = now;
  }
}

/** Follows one step of the shared components' wandering; call after `recentre` on the means before that step. */
export function followWander(
  belief: Belief,
  links: Int32Array,
  shared: SharedState,
  wander: SharedWander,
): void {
  const width = links.length;
  const n = belief.mean.length;
  for (let k = 0; k < width; k++) {
    const index = links[k] as number;
    belief.centre[k] = shared.mean[index] as number;
    if (wander.kept[index] === 1) continue;
    const back = wander.backward[index] as number;
    const lost = wander.forgottenVar[index] as number;
    for (let i = 0; i < n; i++) {
      const slope = belief.onShared[i * width + k] as number;
      if (slope === 0) continue;
      for (let j = 0; j < n; j++)
        belief.covariance[i * n + j] =
          (belief.covariance[i * n + j] as number) +
          slope * (belief.onShared[j * width + k] as number) * lost;
    }
    for (let i = 0; i < n; i++)
      belief.onShared[i * width + k] = (belief.onShared[i * width + k] as number) * back;
  }
}

/** Covariance of two local components, the shared part included. */
export function localCovariance(
  belief: Belief,
  links: Int32Array,
  shared: SharedState,
  row: number,
  column: number,
): number {
  const width = links.length;
  let sum = belief.covariance[row * belief.mean.length + column] ?? 0;
  for (let k = 0; k < width; k++) {
    const left = belief.onShared[row * width + k] as number;
    if (left === 0) continue;
    for (let l = 0; l < width; l++)
      sum +=
        left *
        shared.covarianceOf(links[k] as number, links[l] as number) *
        (belief.onShared[column * width + l] as number);
  }
  return sum;
}

export function localVariance(belief: Belief, slope: Float64Array): number {
  const n = belief.mean.length;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const left = slope[i] as number;
    if (left === 0) continue;
    for (let j = 0; j < n; j++) sum += left * (belief.covariance[i * n + j] as number) * (slope[j] as number);
  }
  return sum;
}

export function totalSharedSlope(
  belief: Belief,
  links: Int32Array,
  localSlope: Float64Array,
  sharedSlope?: Float64Array,
): Float64Array {
  const width = links.length;
  const total = new Float64Array(width);
  if (sharedSlope !== undefined) total.set(sharedSlope);
  for (let i = 0; i < belief.mean.length; i++) {
    const slope = localSlope[i] as number;
    if (slope === 0) continue;
    for (let k = 0; k < width; k++)
      total[k] = (total[k] as number) + slope * (belief.onShared[i * width + k] as number);
  }
  return total;
}

export function sharedVariance(links: Int32Array, shared: SharedState, slope: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < links.length; k++) {
    const left = slope[k] as number;
    if (left === 0) continue;
    for (let l = 0; l < links.length; l++)
      sum += left * shared.covarianceOf(links[k] as number, links[l] as number) * (slope[l] as number);
  }
  return sum;
}
