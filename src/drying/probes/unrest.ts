import { GATE_SD } from '../filter/hypotheses.js';
import type { ProbeState } from '../filter/probe-state.js';
import type { TrayState } from '../filter/tray-state.js';

/** The last days count, h. */
const MEMORY_H = 72;
/** Usual surprise, below 1 because a probe's width is set larger than it looks. */
const USUAL_SURPRISE = 0.5;
/** Growth of a tray's wandering (standard deviation, relative) per unit of surprise beyond the usual (judgement). */
const GROWTH = 10;

/**
 * Notes how far a reading stood from what was foretold, as innovation squared over its variance, believed or not, but for no more than the gate lets by. Near 1
 * or below while physics and probe explain the tray; above it for days when neither does.
 */
export function noteSurprise(probe: ProbeState, surprise: number, sinceH: number): void {
  const fresh = 1 - Math.exp(-sinceH / MEMORY_H);
  probe.surprise += fresh * (Math.min(GATE_SD ** 2, surprise) - probe.surprise);
}

/**
 * How much more freely than usual a tray's rate and water content wander, 1 or more: a tray that contradicts the model for
 * days is another than it was taken for, and what was learned of it before must not hold it.
 */
export function unrestOf(tray: TrayState): number {
  let most = 0;
  for (const probe of tray.probes)
    if (probe.spec.kind === 'block-moisture') most = Math.max(most, probe.surprise);
  return 1 + GROWTH * Math.max(0, most - USUAL_SURPRISE);
}
