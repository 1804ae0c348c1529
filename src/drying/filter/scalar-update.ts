import { type Belief, localVariance, sharedVariance, totalSharedSlope } from './belief.js';
import type { SharedState } from './shared-state.js';

/** One scalar observation, linearised at the belief's mean: what was seen minus what was expected, and its slopes. */
export interface ScalarObservation {
  readonly innovation: number;
  readonly localSlope: Float64Array;
  readonly sharedSlope?: Float64Array | undefined;
  readonly noiseVariance: number;
}

/** Variance of the innovation: noise, local and shared uncertainty together. */
export function innovationVariance(
  belief: Belief,
  links: Int32Array,
  shared: SharedState,
  seen: ScalarObservation,
): number {
  const slope = totalSharedSlope(belief, links, seen.localSlope, seen.sharedSlope);
  return localVariance(belief, seen.localSlope) + seen.noiseVariance + sharedVariance(links, shared, slope);
}

/**
 * Kalman update of one tray's belief and of the shared components by one observation. The belief must be centred on
 * the shared means. `teachShared` false keeps the shared components as they are (minor hypotheses).
 *
 * Local part given the shared: gain = C h / (h' C h + R); its dependence on the shared falls by gain × total slope.
 */
export function scalarUpdate(
  belief: Belief,
  links: Int32Array,
  shared: SharedState,
  seen: ScalarObservation,
  teachShared: boolean,
): void {
  const n = belief.mean.length;
  const width = links.length;
  const slope = totalSharedSlope(belief, links, seen.localSlope, seen.sharedSlope);
  const spread = new Float64Array(n);
  let ownVariance = seen.noiseVariance;
  for (let i = 0; i < n; i++) {
    let sum = 0;
    for (let j = 0; j < n; j++)
      sum += (belief.covariance[i * n + j] as number) * (seen.localSlope[j] as number);
    spread[i] = sum;
  }
  for (let i = 0; i < n; i++) ownVariance += (seen.localSlope[i] as number) * (spread[i] as number);
  if (!(ownVariance > 0)) return;

  const before = Float64Array.from(links, (index) => shared.meanOf(index));
  if (teachShared) shared.update(links, slope, seen.innovation, ownVariance);

  let explained = 0;
  for (let k = 0; k < width; k++)
    explained += (slope[k] as number) * (shared.meanOf(links[k] as number) - (before[k] as number));
  const left = seen.innovation - explained;
  for (let i = 0; i < n; i++) {
    const gain = (spread[i] as number) / ownVariance;
    for (let k = 0; k < width; k++) {
      const at = i * width + k;
      const shift = shared.meanOf(links[k] as number) - (before[k] as number);
      belief.mean[i] = (belief.mean[i] as number) + (belief.onShared[at] as number) * shift;
    }
    belief.mean[i] = (belief.mean[i] as number) + gain * left;
    for (let k = 0; k < width; k++)
      belief.onShared[i * width + k] =
        (belief.onShared[i * width + k] as number) - gain * (slope[k] as number);
    for (let j = 0; j < n; j++)
      belief.covariance[i * n + j] = (belief.covariance[i * n + j] as number) - gain * (spread[j] as number);
  }
  for (let k = 0; k < width; k++) belief.centre[k] = shared.meanOf(links[k] as number);
  for (let i = 0; i < n; i++)
    if ((belief.covariance[i * n + i] as number) < 0) belief.covariance[i * n + i] = 0;
}

/**
 * Replaces one local component by a linear function of the local ones plus noise: a pour sets the water content, for
 * one. `slope` over the local components; `offset` and `noiseVariance` in the component's unit.
 */
export function assignLocal(
  belief: Belief,
  width: number,
  target: number,
  slope: Float64Array,
  offset: number,
  noiseVariance: number,
): void {
  const n = belief.mean.length;
  const row = new Float64Array(n);
  const onShared = new Float64Array(width);
  let mean = offset;
  let variance = noiseVariance;
  for (let i = 0; i < n; i++) {
    const s = slope[i] as number;
    if (s === 0) continue;
    mean += s * (belief.mean[i] as number);
    for (let k = 0; k < width; k++)
      onShared[k] = (onShared[k] as number) + s * (belief.onShared[i * width + k] as number);
    for (let j = 0; j < n; j++) row[j] = (row[j] as number) + s * (belief.covariance[i * n + j] as number);
  }
  for (let j = 0; j < n; j++) variance += (slope[j] as number) * (row[j] as number);
  belief.mean[target] = mean;
  belief.onShared.set(onShared, target * width);
  for (let j = 0; j < n; j++) {
    belief.covariance[target * n + j] = row[j] as number;
    belief.covariance[j * n + target] = row[j] as number;
  }
  belief.covariance[target * n + target] = Math.max(0, variance);
}

/** Sets one local component to a value that owes nothing to what was believed before. */
export function setLocal(belief: Belief, width: number, component: number, mean: number, sd: number): void {
  assignLocal(belief, width, component, new Float64Array(belief.mean.length), mean, sd ** 2);
}
