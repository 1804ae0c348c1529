import { type Belief, copyBelief } from '../filter/belief.js';
import { mergeAlike, pruneHypotheses } from '../filter/hypotheses.js';
import { LOCAL, PROBE } from '../filter/layout.js';
import { probeOffset } from '../filter/measurement.js';
import { isRaw, type ProbeState, usualPerWater } from '../filter/probe-state.js';
import { widen } from '../filter/process-step.js';
import type { ScalarObservation } from '../filter/scalar-update.js';
import type { TrayState } from '../filter/tray-state.js';

/**
 * How far a witness block and its probe may stand from the mean block, standard deviation in m³/m³ (judgement: blocks of
 * one tray scatter by some hundredths, a badly pressed one or a loose contact by a tenth).
 */
const PLAUSIBLE_BIAS_SD_M3PERM3 = 0.07;
/**
 * Chance that the probe errs, for a disagreement of no size: a probe that reads too dry has often lost touch, one that
 * reads too wet has mostly seen water that the model has not.
 */
const PROBE_ERRS = { tooDry: 0.85, tooWet: 0.4 } as const;
/** A hypothesis takes the disagreement over with this share of it as its standard deviation. */
const TAKEN_OVER_SHARE = 0.7;

/** +1 when the reading of a moisture probe, in its unit, rises as its block gets wetter. */
export function wetSign(probe: ProbeState): number {
  return isRaw(probe) ? -probe.drySign : 1;
}

/**
 * A moisture probe has contradicted every hypothesis, coherently and for hours: each splits into one where the probe's
 * offset has changed and one where the tray is not where the model thinks. The offset is the likelier the smaller it
 * would have to be; no probe is wrong by the whole span of a block.
 */
export function splitOnDisagreement(
  tray: TrayState,
  probe: ProbeState,
  observe: (belief: Belief) => ScalarObservation,
): void {
  const next: Belief[] = [];
  const bias = probeOffset(probe) + PROBE.bias;
  const raw = isRaw(probe);
  const perWater = usualPerWater(probe);
  for (const before of tray.beliefs) {
    const { innovation, localSlope } = observe(before);
    const slope = Math.max(0.3 * perWater, Math.abs(localSlope[LOCAL.water] as number));
    const offset = (innovation + (raw ? 0 : (before.mean[bias] as number))) / perWater;
    const wetter = innovation * wetSign(probe) > 0;
    const chance =
      (wetter ? PROBE_ERRS.tooWet : PROBE_ERRS.tooDry) *
      Math.exp(-0.5 * (offset / PLAUSIBLE_BIAS_SD_M3PERM3) ** 2);
    const moved = copyBelief(before);
    widen(moved, LOCAL.water, ((TAKEN_OVER_SHARE * innovation) / slope) ** 2);
    moved.weight = before.weight * (1 - chance);
    widen(before, bias, (TAKEN_OVER_SHARE * innovation) ** 2);
    before.weight *= chance;
    next.push(moved, before);
  }
  tray.beliefs = mergeAlike(tray, next);
  pruneHypotheses(tray);
}
