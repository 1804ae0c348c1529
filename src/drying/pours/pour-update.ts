import { type Belief, copyBelief, recentre } from '../filter/belief.js';
import { pruneHypotheses } from '../filter/hypotheses.js';
import { LINK_COUNT, LOCAL, PROBE } from '../filter/layout.js';
import { widen } from '../filter/process-step.js';
import { assignLocal, setLocal } from '../filter/scalar-update.js';
import type { SharedState } from '../filter/shared-state.js';
import type { TrayState } from '../filter/tray-state.js';
import { probeOffset } from '../probes/measurement.js';
import { USUAL_VOLTS_PER_WATER } from '../probes/probe-state.js';

/** A tray filled and tipped out stands a little under capacity after draining, m³/m³. */
const FILLED_BELOW_CAPACITY = 0.008;
const FILLED_SD = 0.015;
/** Of pours told as filled, this many were partly (judgement). */
const PARTLY_PROBABILITY = 0.12;
/** A partial pour closes about this share of the deficit. */
const PARTLY_SHARE = { mean: 0.6, sd: 0.16 };
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

/**
 * A witness block that had gone too dry sheds the water, or its probe has lost touch: the tray is filled and the probe
 * does not show it. Probability at the refill point or above, and of a block as dry as the dry end.
 */
const UNSHOWN_PROBABILITY = { usual: 0.02, dry: 0.25 };
const REDRAWN_BIAS_SD = 0.14;
/** A probe whose offset is larger than this stood in a witness that did not take part; a pour may cure it, m³/m³. */
const CURABLE_BIAS = 0.09;
const CURED_BIAS_SD = 0.05;

/** The hypothesis that the tray was filled and its moisture probes do not show it, or show it again. */
function unshown(tray: TrayState, filled: Belief): Belief | undefined {
  const moisture = tray.probes.filter((probe) => probe.spec.kind === 'block-moisture' && probe.started);
  if (moisture.length === 0) return undefined;
  const belief = copyBelief(filled);
  for (const probe of moisture) {
    const at = probeOffset(probe) + PROBE.bias;
    const perWater = probe.spec.kind === 'block-moisture' && probe.spec.calibration === undefined ? USUAL_VOLTS_PER_WATER : 1;
    const ill = Math.abs(belief.mean[at] as number) > CURABLE_BIAS && perWater === 1;
    if (ill) setLocal(belief, LINK_COUNT, at, 0, CURED_BIAS_SD);
    else widen(belief, at, (REDRAWN_BIAS_SD * perWater) ** 2);
  }
  return belief;
}

function unshownProbability(belief: Belief): number {
  const refill = belief.mean[LOCAL.refill] as number;
  const dryness = (refill - (belief.mean[LOCAL.water] as number)) / Math.max(0.05, refill);
  return (
    UNSHOWN_PROBABILITY.usual +
    (UNSHOWN_PROBABILITY.dry - UNSHOWN_PROBABILITY.usual) * Math.min(1, Math.max(0, 2 * dryness))
  );
}

/** Filled to capacity, or partly: the first with probability `filledProbability`. `driedSince` since the pour, m³/m³. */
export function pourUnmeasured(
  tray: TrayState,
  shared: SharedState,
  driedSince: number,
  filledProbability = 1 - PARTLY_PROBABILITY,
): void {
  const partly: Belief[] = [];
  const odd: Belief[] = [];
  for (const belief of tray.beliefs) {
    recentre(belief, tray.links, shared);
    const weight = belief.weight;
    const other = copyBelief(belief);
    const silent = unshownProbability(belief);
    fillPartly(other);
    fill(belief, driedSince);
    const ill = unshown(tray, belief);
    const shown = ill === undefined ? 1 : 1 - silent;
    other.weight = weight * shown * (1 - filledProbability);
    belief.weight = weight * shown * filledProbability;
    partly.push(other);
    if (ill !== undefined) {
      ill.weight = weight * silent;
      odd.push(ill);
    }
  }
  tray.beliefs = [...mergeAlike([...tray.beliefs, ...partly]), ...odd];
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
