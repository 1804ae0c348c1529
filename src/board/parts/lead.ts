import type { BoardHookup } from '../kit/hooked-probe.js';

/** Copper of 0.14 mm2, ohm a metre, one way: 0.0172 ohm mm2/m at 20 °C (handbook value, from memory) over 0.14 mm2. */
export const leadOhmPerM = 0.123;
/** Cold resistance of a resettable fuse that holds 50 mA (from memory). */
export const fuseOhm = 2;
/** Assumed where the configuration does not say (judgement): a part of the bus stands beside the board, others on the bench. */
const usualCableM = { bus: 0.5, other: 3 } as const;

/** Metres of a part's cable. */
export function cableMOf(hookup: BoardHookup): number {
  return hookup.cableM ?? ('input' in hookup ? usualCableM.other : usualCableM.bus);
}

/** What lies in series with the probe of a divider: both leads, and the fuse where the probe hangs on the supply. */
export function inSeriesOhm(hookup: BoardHookup & { readonly side: 'ground' | 'supply' }): number {
  return 2 * leadOhmPerM * cableMOf(hookup) + (hookup.side === 'supply' ? fuseOhm : 0);
}
