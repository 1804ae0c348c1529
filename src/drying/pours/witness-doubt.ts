import { type Belief, copyBelief } from '../filter/belief.js';
import { LINK_COUNT, LOCAL, PROBE } from '../filter/layout.js';
import { probeOffset } from '../filter/measurement.js';
import { isRaw, type ProbeState, usualPerWater } from '../filter/probe-state.js';
import { widen } from '../filter/process-step.js';
import { assignLocal, setLocal } from '../filter/scalar-update.js';
import type { TrayState } from '../filter/tray-state.js';

/**
 * A witness block takes up more or less than the mean block: share of the rise, usual and for a block below the refill
 * point (dry peat repels water).
 */
const UPTAKE_DIFFERENCE = { usual: 0.12, dry: 0.18 } as const;
/** However large the rise, one pour puts no more than this standard deviation between a witness and its tray. */
const MOST_UPTAKE_DIFFERENCE_M3PERM3 = 0.08;
/**
 * A witness that had gone too dry sheds the water, or its probe has lost touch: the tray is filled and the probe does
 * not show it. Probability at the refill point or above, and far below it. With more of it, or a
 * wider offset, the model believes in offsets of 0.2 m³/m³ that are mostly not there: the tray is as dry as its witness (DEVELOPERS.md).
 */
const UNSHOWN_PROBABILITY = { usual: 0.01, dry: 0.04 } as const;
const REDRAWN_BIAS_SD = 0.09;
/** A probe whose offset is larger than this stood in a witness that did not take part; a pour may cure it, m³/m³. */
const CURABLE_BIAS = 0.09;
const CURED_BIAS_SD = 0.05;

/** 0 at the refill point or above, 1 from half of it down. */
export function dryness(belief: Belief): number {
  const refill = belief.mean[LOCAL.refill] as number;
  return Math.min(
    1,
    Math.max(0, (2 * (refill - (belief.mean[LOCAL.water] as number))) / Math.max(0.05, refill)),
  );
}

function between(range: { readonly usual: number; readonly dry: number }, share: number): number {
  return range.usual + (range.dry - range.usual) * share;
}

function moistureProbes(tray: TrayState): readonly ProbeState[] {
  return tray.probes.filter((probe) => probe.spec.kind === 'block-moisture' && probe.started);
}

/**
 * Pours that go on for ever do not take a calibrated witness further from its tray than this, m³/m³. With 0.06 an offset that lasts was
 * forgotten at each pour: on a bench with witnesses far from their trays pinball 4.68 h, with this 4.53 (`decisions/tried-and-measured.md`).
 */
const MOST_BIAS_SD = 0.1;

/**
 * Widens what is believed of the witnesses by what a rise of this size, m³/m³, may have put between them and the tray,
 * and draws calibrated ones back so that many pours add up to no more than `MOST_BIAS_SD`.
 */
export function doubtWitnesses(tray: TrayState, belief: Belief, rise: number, drynessBefore: number): void {
  const share = between(UPTAKE_DIFFERENCE, drynessBefore);
  const variance = Math.min(MOST_UPTAKE_DIFFERENCE_M3PERM3, share * Math.max(0, rise)) ** 2;
  for (const probe of moistureProbes(tray)) {
    const at = probeOffset(probe) + PROBE.bias;
    if (!isRaw(probe)) {
      const slope = new Float64Array(belief.mean.length);
      slope[at] = Math.sqrt(Math.max(0, 1 - variance / MOST_BIAS_SD ** 2));
      assignLocal(belief, LINK_COUNT, at, slope, 0, variance);
    } else widen(belief, at, variance * usualPerWater(probe) ** 2);
  }
}

/** Probability that the moisture probes will not show a pour on a tray that stands like this. */
export function unshownProbability(tray: TrayState, belief: Belief): number {
  return moistureProbes(tray).length === 0 ? 0 : between(UNSHOWN_PROBABILITY, dryness(belief));
}

/** The hypothesis that the tray took the water and its moisture probes do not show it, or show it again. */
export function unshown(tray: TrayState, watered: Belief): Belief {
  const belief = copyBelief(watered);
  for (const probe of moistureProbes(tray)) {
    const at = probeOffset(probe) + PROBE.bias;
    const ill = !isRaw(probe) && Math.abs(belief.mean[at] as number) > CURABLE_BIAS;
    if (ill) setLocal(belief, LINK_COUNT, at, 0, CURED_BIAS_SD);
    else widen(belief, at, (REDRAWN_BIAS_SD * usualPerWater(probe)) ** 2);
  }
  return belief;
}
