import { type Belief, copyBelief, recentre } from '../filter/belief.js';
import { mergeAlike, pruneHypotheses, TEACHING_WEIGHT } from '../filter/hypotheses.js';
import { LINK_COUNT, LOCAL, PROBE } from '../filter/layout.js';
import { widen } from '../filter/process-step.js';
import { innovationVariance, scalarUpdate, setLocal } from '../filter/scalar-update.js';
import type { SharedState } from '../filter/shared-state.js';
import type { TrayState } from '../filter/tray-state.js';
import { probeOffset } from '../probes/measurement.js';
import { usualPerWater } from '../probes/probe-state.js';
import { observeIndex } from './moisture-index.js';

/**
 * Growers' eyes: chance that somebody who walks by waters a tray of this moisture index. Dry blocks are pale and light, and hardly
 * anybody leaves them so; where growers begin to water differs, so that the odds are even well below that (judgement).
 */
const WATERS_DRY = 0.9;
const EVEN_ODDS_INDEX = 0;
const EYE_WIDTH = 0.12;

/** The index is weighed at so many points over so many standard deviations to either side. */
const GRID = { halfPoints: 16, sds: 4 } as const;
/** Evidence that narrows the belief by less than this share of its variance is none. */
const LEAST_NARROWING = 0.002;

/** Chance that a tray is not at all where it is held, nor its witness, and how far off a witness may be then, m³/m³ (judgement). */
const MISTAKEN = 0.03;
const MISTAKEN_BIAS_SD_M3PERM3 = 0.15;
/** Where a tray stands that nobody found in need of water, moisture index (judgement). */
const LEFT_INDEX = { mean: 0.5, sd: 0.3 } as const;

/** Chance that a tray of this index is left without water by who may have seen it with probability `seen`. */
export function leftWithout(index: number, seen: number): number {
  return 1 - (seen * WATERS_DRY) / (1 + Math.exp((index - EVEN_ODDS_INDEX) / EYE_WIDTH));
}

/**
 * One hypothesis of a tray that somebody walked past: the Gaussian over its index times the chance of leaving it so, by its first two
 * moments. Returns the chance that this hypothesis gave to what happened.
 *
 * @param seen 0 to 1: that somebody looked at it, and that a pour would be known
 * @param driedSince the walk, m³/m³
 */
function passBy(
  belief: Belief,
  tray: TrayState,
  shared: SharedState,
  seen: number,
  driedSince: number,
  teaches: boolean,
): number {
  recentre(belief, tray.links, shared);
  const level = observeIndex(belief, 0, 0);
  const span = Math.max(
    0.05,
    (belief.mean[LOCAL.capacity] as number) - (belief.mean[LOCAL.refill] as number),
  );
  const variance = innovationVariance(belief, tray.links, shared, level);
  const mean = driedSince - level.innovation;
  const sd = Math.sqrt(variance);
  if (!(sd > 0)) return leftWithout(mean / span, seen);
  let [sum, chance, first, second] = [0, 0, 0, 0];
  for (let i = -GRID.halfPoints; i <= GRID.halfPoints; i++) {
    const z = (i * GRID.sds) / GRID.halfPoints;
    const density = Math.exp(-0.5 * z * z);
    const weight = density * leftWithout((mean + z * sd) / span, seen);
    sum += density;
    chance += weight;
    first += weight * z;
    second += weight * z * z;
  }
  const shift = first / chance;
  const narrowed = second / chance - shift * shift;
  if (1 - narrowed > LEAST_NARROWING)
    scalarUpdate(
      belief,
      tray.links,
      shared,
      {
        ...level,
        innovation: (shift * sd) / (1 - narrowed),
        noiseVariance: (variance * narrowed) / (1 - narrowed),
      },
      teaches,
    );
  return chance / sum;
}

/** Somewhere between full and due, whatever was believed, its witnesses included. */
function elsewhere(before: Belief, tray: TrayState): Belief {
  const belief = copyBelief(before);
  const refill = before.mean[LOCAL.refill] as number;
  const span = Math.max(0.05, (before.mean[LOCAL.capacity] as number) - refill);
  setLocal(belief, LINK_COUNT, LOCAL.water, refill + LEFT_INDEX.mean * span, LEFT_INDEX.sd * span);
  for (const probe of tray.probes)
    widen(belief, probeOffset(probe) + PROBE.bias, (MISTAKEN_BIAS_SD_M3PERM3 * usualPerWater(probe)) ** 2);
  return belief;
}

/**
 * Somebody walked past this tray and gave it no water: the drier a hypothesis, the less likely. No Gaussian reaches far enough from a
 * firm error, so that a little is always kept for being mistaken altogether.
 */
export function passTray(tray: TrayState, shared: SharedState, seen: number, driedSince: number): void {
  const [leader] = [...tray.beliefs].sort((a, b) => b.weight - a.weight);
  if (leader === undefined) return;
  const mistaken = elsewhere(leader, tray);
  for (const belief of tray.beliefs)
    belief.weight *=
      (1 - MISTAKEN) * passBy(belief, tray, shared, seen, driedSince, belief.weight >= TEACHING_WEIGHT);
  mistaken.weight = MISTAKEN * leftWithout(LEFT_INDEX.mean, seen);
  tray.beliefs = mergeAlike(tray, [...tray.beliefs, mistaken]);
  pruneHypotheses(tray);
}
