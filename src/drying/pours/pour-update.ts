import { type Belief, copyBelief, recentre } from '../filter/belief.js';
import { pruneHypotheses } from '../filter/hypotheses.js';
import { LINK_COUNT, LOCAL } from '../filter/layout.js';
import { assignLocal } from '../filter/scalar-update.js';
import type { SharedState } from '../filter/shared-state.js';
import type { TrayState } from '../filter/tray-state.js';

/** A tray filled and tipped out stands a little under capacity after draining, m³/m³. */
const FILLED_BELOW_CAPACITY = 0.008;
const FILLED_SD = 0.015;
/** Of pours told as filled, this many were partly (judgement). */
const PARTLY_PROBABILITY = 0.12;
/** A partial pour closes about this share of the deficit. */
const PARTLY_SHARE = { mean: 0.55, sd: 0.22 };
/** A measured pour is this uncertain: spill, water left in the channels. */
const DOSE_SHARE_SD = 0.12;
const DOSE_SD_M3PERM3 = 0.008;

function fill(belief: Belief, driedSince: number): void {
  const slope = new Float64Array(belief.mean.length);
  slope[LOCAL.capacity] = 1;
  assignLocal(belief, LINK_COUNT, LOCAL.water, slope, -FILLED_BELOW_CAPACITY - driedSince, FILLED_SD ** 2);
}

function fillPartly(belief: Belief): void {
  const water = belief.mean[LOCAL.water] as number;
  const deficit = Math.max(0.02, (belief.mean[LOCAL.capacity] as number) - water);
  const slope = new Float64Array(belief.mean.length);
  slope[LOCAL.capacity] = PARTLY_SHARE.mean;
  slope[LOCAL.water] = 1 - PARTLY_SHARE.mean;
  assignLocal(belief, LINK_COUNT, LOCAL.water, slope, 0, (PARTLY_SHARE.sd * deficit) ** 2);
}

/** Filled to capacity, or partly: the first with probability `filledProbability`. `driedSince` since the pour, m³/m³. */
export function pourUnmeasured(
  tray: TrayState,
  shared: SharedState,
  driedSince: number,
  filledProbability = 1 - PARTLY_PROBABILITY,
): void {
  const partly: Belief[] = [];
  for (const belief of tray.beliefs) {
    recentre(belief, tray.links, shared);
    const other = copyBelief(belief);
    fillPartly(other);
    other.weight = belief.weight * (1 - filledProbability);
    partly.push(other);
    fill(belief, driedSince);
    belief.weight *= filledProbability;
  }
  tray.beliefs = mergeAlike([...tray.beliefs, ...partly]);
  pruneHypotheses(tray);
}

/** `ml` were poured and stayed: added, up to capacity. */
export function pourMeasured(tray: TrayState, shared: SharedState, ml: number, driedSince: number): void {
  const rise = ml / tray.volumeMl;
  for (const belief of tray.beliefs) {
    recentre(belief, tray.links, shared);
    const water = belief.mean[LOCAL.water] as number;
    const capacity = belief.mean[LOCAL.capacity] as number;
    const room = capacity + driedSince - water;
    if (rise >= room + DOSE_SHARE_SD * rise) {
      fill(belief, driedSince);
      continue;
    }
    const slope = new Float64Array(belief.mean.length);
    slope[LOCAL.water] = 1;
    assignLocal(
      belief,
      LINK_COUNT,
      LOCAL.water,
      slope,
      Math.min(rise, Math.max(0, room)),
      (DOSE_SHARE_SD * rise) ** 2 + DOSE_SD_M3PERM3 ** 2,
    );
  }
  tray.beliefs = mergeAlike(tray.beliefs);
  pruneHypotheses(tray);
}

/** Watered with this probability, and then as `pourUnmeasured`: each hypothesis splits. */
export function pourPerhaps(
  tray: TrayState,
  shared: SharedState,
  probability: number,
  driedSince: number,
): void {
  const watered: Belief[] = [];
  for (const belief of tray.beliefs) {
    recentre(belief, tray.links, shared);
    const other = copyBelief(belief);
    fill(other, driedSince);
    other.weight = belief.weight * probability;
    belief.weight *= 1 - probability;
    watered.push(other);
  }
  tray.beliefs = mergeAlike([...tray.beliefs, ...watered]);
  pruneHypotheses(tray);
}

/** Filled hypotheses that stand at the same water are one: the heavier keeps both weights. */
function mergeAlike(beliefs: readonly Belief[]): Belief[] {
  const merged: Belief[] = [];
  for (const belief of [...beliefs].sort((a, b) => b.weight - a.weight)) {
    const n = belief.mean.length;
    const alike = merged.find((other) => {
      const apart = Math.abs((other.mean[LOCAL.water] as number) - (belief.mean[LOCAL.water] as number));
      const sd = Math.sqrt(
        Math.min(
          other.covariance[LOCAL.water * n + LOCAL.water] as number,
          belief.covariance[LOCAL.water * n + LOCAL.water] as number,
        ),
      );
      return apart < Math.max(0.012, 0.5 * sd);
    });
    if (alike === undefined) merged.push(belief);
    else alike.weight += belief.weight;
  }
  return merged;
}
