import { type Belief, copyBelief } from '../filter/belief.js';
import { mergeAlike, pruneHypotheses } from '../filter/hypotheses.js';
import { LINK_COUNT, LOCAL } from '../filter/layout.js';
import { assignLocal } from '../filter/scalar-update.js';
import type { TrayState } from '../filter/tray-state.js';
import { indexOf } from './moisture-index.js';
import { doubtWitnesses, dryness, unshown, unshownProbability } from './witness-doubt.js';

/** A tray filled and tipped out stands a little under capacity after draining, m³/m³ (judgement). */
const FILLED_BELOW_CAPACITY = 0.004;
const FILLED_SD = 0.015;
/**
 * Of pours told as filled, this many were partly (judgement): a pour by measure has its mL written beside it. Of pours that a probe
 * has begun to show, more, before it has settled.
 */
const PARTLY_PROBABILITY = { told: 0.04, seen: 0.25 } as const;
/**
 * A tray told watered whose notice had asked for less than a filling was given that, and not filled, this often (judgement;
 * measured in `decisions/tried-and-measured.md`).
 */
const AS_ASKED_PROBABILITY = 0.5;
/** A partial pour closes about this share of the deficit. */
const PARTLY_SHARE = { mean: 0.6, sd: 0.16 } as const;
/**
 * A tray that had gone dry sheds what it is given, and its witness with it: chance far below the refill point (dry peat repels
 * water; growers' notes, no published figures for blocks), and the share of what it lacks that such a tray takes up.
 */
const SHED_PROBABILITY = 0.6;
const SHED_SHARE = { mean: 0.3, sd: 0.2 } as const;
/** Nothing shows a shedding tray without a probe, and most are wet again by the second pour: it is taken for rarer there. */
const SHED_UNPROBED = 0.2;
/** Blocks that were wetter than this moisture index since have drunk through, and shed no more (judgement). */
const WET_THROUGH_INDEX = 0.7;
/** A measured pour is this uncertain: spill, water left in the channels. */
const DOSE_SHARE_SD = 0.12;
const DOSE_SD_M3PERM3 = 0.008;

/** To capacity, and dried by `driedSince` since. */
function filled(tray: TrayState, before: Belief, driedSince: number): Belief {
  const belief = copyBelief(before);
  const slope = new Float64Array(belief.mean.length);
  slope[LOCAL.capacity] = 1;
  assignLocal(belief, LINK_COUNT, LOCAL.water, slope, -FILLED_BELOW_CAPACITY - driedSince, FILLED_SD ** 2);
  belief.shedding = 0;
  doubt(tray, belief, before);
  return belief;
}

/** By a share of the deficit that nobody knows. */
function filledPartly(
  tray: TrayState,
  before: Belief,
  part: { readonly mean: number; readonly sd: number } = PARTLY_SHARE,
): Belief {
  const belief = copyBelief(before);
  const deficit = Math.max(
    0.02,
    (before.mean[LOCAL.capacity] as number) - (before.mean[LOCAL.water] as number),
  );
  const slope = new Float64Array(belief.mean.length);
  slope[LOCAL.capacity] = part.mean;
  slope[LOCAL.water] = 1 - part.mean;
  assignLocal(belief, LINK_COUNT, LOCAL.water, slope, 0, (part.sd * deficit) ** 2);
  doubt(tray, belief, before);
  return belief;
}

/** By a measured rise, m³/m³, up to capacity. */
function raised(tray: TrayState, before: Belief, rise: number, driedSince: number): Belief {
  const room = (before.mean[LOCAL.capacity] as number) + driedSince - (before.mean[LOCAL.water] as number);
  if (rise >= room + DOSE_SHARE_SD * rise) return filled(tray, before, driedSince);
  const belief = copyBelief(before);
  const slope = new Float64Array(belief.mean.length);
  slope[LOCAL.water] = 1;
  const variance = (DOSE_SHARE_SD * rise) ** 2 + DOSE_SD_M3PERM3 ** 2;
  assignLocal(belief, LINK_COUNT, LOCAL.water, slope, Math.min(rise, Math.max(0, room)), variance);
  doubt(tray, belief, before);
  return belief;
}

function doubt(tray: TrayState, after: Belief, before: Belief): void {
  const rise = (after.mean[LOCAL.water] as number) - (before.mean[LOCAL.water] as number);
  doubtWitnesses(tray, after, rise, dryness(before));
}

/** Replaces every hypothesis by weighted successors. */
export function branch(
  tray: TrayState,
  successors: (before: Belief) => readonly { readonly belief: Belief; readonly share: number }[],
): void {
  const next: Belief[] = [];
  for (const before of tray.beliefs) {
    const { weight } = before;
    for (const { belief, share } of successors(before)) {
      if (share <= 0) continue;
      belief.weight = weight * share;
      next.push(belief);
    }
  }
  tray.beliefs = mergeAlike(tray, next);
  pruneHypotheses(tray);
}

/** How dry the blocks have been since they were last wet through, 0 to 1. */
function sheddingOf(before: Belief): number {
  return indexOf(before) > WET_THROUGH_INDEX ? 0 : Math.max(before.shedding, dryness(before));
}

function shedProbability(tray: TrayState, before: Belief): number {
  return SHED_PROBABILITY * sheddingOf(before) * (tray.probes.length === 0 ? SHED_UNPROBED : 1);
}

/** Little taken up, by the witness as by the tray. */
function shed(tray: TrayState, before: Belief): Belief {
  const belief = filledPartly(tray, before, SHED_SHARE);
  belief.shedding = sheddingOf(before);
  return belief;
}

/**
 * A pour whose amount nobody knows: filled to capacity, partly, shed, or not shown. `seen`: a probe is showing it; what it shows
 * then says how much, and nothing is held for shed (on open ground read every three hours that made the forecast worse).
 * `askedMl`: what was asked of who told it, less than a filling. `driedSince` the pour, m³/m³.
 */
export function pourUnmeasured(
  tray: TrayState,
  driedSince: number,
  known: 'told' | 'seen',
  askedMl?: number,
): void {
  const partly = PARTLY_PROBABILITY[known];
  branch(tray, (before) => {
    const silent = unshownProbability(tray, before);
    const full = filled(tray, before, driedSince);
    const sheds = known === 'seen' ? 0 : shedProbability(tray, before);
    const taken = (1 - silent) * (1 - sheds);
    const asAsked =
      askedMl === undefined ? undefined : raised(tray, before, askedMl / tray.volumeMl, driedSince);
    const asked = asAsked === undefined ? 0 : AS_ASKED_PROBABILITY;
    return [
      { belief: full, share: taken * (1 - asked) * (1 - partly) },
      { belief: filledPartly(tray, before), share: taken * (1 - asked) * partly },
      { belief: asAsked ?? full, share: taken * asked },
      { belief: shed(tray, before), share: (1 - silent) * sheds },
      { belief: unshown(tray, full), share: silent },
    ];
  });
}

/** `ml` were poured and stayed: added, up to capacity. */
export function pourMeasured(tray: TrayState, ml: number, driedSince: number): void {
  branch(tray, (before) => {
    const silent = unshownProbability(tray, before);
    const up = raised(tray, before, ml / tray.volumeMl, driedSince);
    const sheds = shedProbability(tray, before);
    return [
      { belief: up, share: (1 - silent) * (1 - sheds) },
      { belief: shed(tray, before), share: (1 - silent) * sheds },
      { belief: unshown(tray, up), share: silent },
    ];
  });
}

/** Growth of the log odds of a watering per unit of moisture index that a hypothesis is drier (judgement). */
const DRY_ASKS_FOR_WATER = 8;

/** The same per unit below the refill point: nobody passes by a tray that has gone dry. */
const DRY_IS_SEEN = 3;

/** Filled with this probability: each hypothesis splits, the drier ones more likely watered. */
export function pourPerhaps(tray: TrayState, probability: number, driedSince: number): void {
  const meanIndex = tray.beliefs.reduce((sum, belief) => sum + belief.weight * indexOf(belief), 0);
  const odds = probability / Math.max(1e-9, 1 - probability);
  branch(tray, (before) => {
    const index = indexOf(before);
    const oddsHere =
      odds *
      Math.exp(DRY_ASKS_FOR_WATER * (meanIndex - index) + DRY_IS_SEEN * Math.min(1, Math.max(0, -index)));
    const share = oddsHere / (1 + oddsHere);
    const sheds = shedProbability(tray, before);
    return [
      { belief: filled(tray, before, driedSince), share: share * (1 - sheds) },
      { belief: shed(tray, before), share: share * sheds },
      { belief: before, share: 1 - share },
    ];
  });
}
