export interface ClockFacts {
  readonly nowMs: number;
  /** Latest moment that is known to be past: the program's build, the last reading kept. */
  readonly notBeforeMs: number;
  /** The kernel's clock follows a time server. */
  readonly synchronised: boolean;
  /** Time of a battery clock, when the machine has one, epoch ms. */
  readonly batteryClockMs: number | undefined;
  /** Somebody said that the clock is right, since the machine was switched on. */
  readonly confirmed: boolean;
}

export type ClockTrust =
  | { readonly kind: 'trusted'; readonly because: string }
  | { readonly kind: 'not-yet'; readonly because: string };

/** A battery clock and the system's clock that was set from it drift apart by seconds, not by this. */
const mostDriftMs = 120_000;
/** Where a person's word is kept: gone at the next power cut, as it should be. */
export const confirmFile = '/run/drybell-clock-is-right';

/**
 * May times be written down? After a power cut a machine without a battery clock goes on from the last time that it
 * saved, which looks right and may be hours old: that alone is no reason to trust it.
 */
export function clockTrust(facts: ClockFacts): ClockTrust {
  const { nowMs, notBeforeMs, synchronised, batteryClockMs, confirmed } = facts;
  if (nowMs < notBeforeMs)
    return {
      kind: 'not-yet',
      because: `the clock says ${iso(nowMs)}, but ${iso(notBeforeMs)} is past already; set the clock`,
    };
  if (synchronised) return { kind: 'trusted', because: 'the clock follows a time server' };
  if (confirmed) return { kind: 'trusted', because: 'somebody confirmed the clock' };
  if (batteryClockMs !== undefined && Math.abs(batteryClockMs - nowMs) <= mostDriftMs)
    return { kind: 'trusted', because: 'the clock agrees with the battery clock' };
  return {
    kind: 'not-yet',
    because:
      batteryClockMs === undefined
        ? `there is no time server and no battery clock, so nobody knows whether ${iso(nowMs)} is right; set the clock, then: sudo touch ${confirmFile}`
        : `the battery clock says ${iso(batteryClockMs)} and the system ${iso(nowMs)}; put a new cell in, set the clock, then: sudo touch ${confirmFile}`,
  };
}

function iso(ms: number): string {
  return new Date(ms).toISOString().slice(0, 19).replace('T', ' ');
}
