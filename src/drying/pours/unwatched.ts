import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import { copyBelief, spanOf } from '../filter/belief.js';
import type { Farm } from '../filter/farm-state.js';
import { LINK_COUNT, LOCAL } from '../filter/layout.js';
import type { ProbeState } from '../filter/probe-state.js';
import { setLocal } from '../filter/scalar-update.js';
import { FIRST_INDEX, type TrayState } from '../filter/tray-state.js';
import { branch } from './pour-update.js';

/** Time in which a tray that nobody watches has as likely as not been watered more than once, h (judgement: rounds). */
const WATERED_UNSEEN_H = 36;

/**
 * A tray went `hours` without a probe's reading or a word about it. The model alone has run it down, but growers water
 * whether anybody writes it down or not: each hypothesis gives a share to a tray that stands anywhere, as on its first
 * day. `Infinity`: nothing was ever known of it, and nothing is kept.
 */
export function doubtUnwatched(tray: TrayState, hours: number): void {
  const share = 1 - Math.exp(-Math.max(0, hours) / WATERED_UNSEEN_H);
  branch(tray, (before) => {
    const anywhere = copyBelief(before);
    const refill = before.mean[LOCAL.refill] as number;
    const span = spanOf(before);
    setLocal(anywhere, LINK_COUNT, LOCAL.water, refill + FIRST_INDEX.mean * span, FIRST_INDEX.sd * span);
    return [
      { belief: before, share: 1 - share },
      { belief: anywhere, share },
    ];
  });
}

/**
 * The first reading of a farm: until then only what was written down is known, days or weeks of it perhaps (a sowing
 * date is no watering book). Trays with a pour or a look on record are doubted by its age, all others start as new.
 */
export function beginWatching(farm: Farm, atMs: number): void {
  farm.memory.watching = true;
  for (const tray of farm.memory.trays.values()) doubtUnwatched(tray, unknownForH(tray, atMs));
}

/** Hours since somebody last poured or said how the tray stands; `Infinity`: nobody ever did. */
export function unknownForH(tray: TrayState, atMs: number): number {
  const knownMs = Math.max(
    tray.lastPour?.atMs ?? Number.NEGATIVE_INFINITY,
    tray.toldAtMs ?? Number.NEGATIVE_INFINITY,
  );
  return Math.max(0, atMs - knownMs) / MS_PER_HOUR;
}

/** Shorter silences of a probe are no reason for doubt, h and in its own usual gaps: a rise across them is still seen. */
const LEAST_SILENCE = { hours: 4, gaps: 3 } as const;

/** A probe speaks again after a silence: what it missed is doubted before it is believed. */
export function doubtAfterSilence(tray: TrayState, probe: ProbeState, atMs: number): void {
  const { lastSeenAtMs, usualGapH = 0 } = probe;
  if (lastSeenAtMs === undefined) return;
  const hours = Math.min((atMs - lastSeenAtMs) / MS_PER_HOUR, unknownForH(tray, atMs));
  if (hours >= Math.max(LEAST_SILENCE.hours, LEAST_SILENCE.gaps * usualGapH)) doubtUnwatched(tray, hours);
}
