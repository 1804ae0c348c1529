import { fuseOhm } from '../../parts/lead.js';

/** What stands in the enclosure between the board's pins and the parts' cables. */
export type ComponentKind =
  | 'resistor'
  | 'capacitor'
  | 'fuse'
  | 'p-mosfet'
  | 'n-mosfet'
  | 'reference'
  | 'level-shifter';

/**
 * One of them. Its nodes are nets of the plan ("PWR", "A0") or points inside a card ("moist-t1/OUT"): resistor, capacitor
 * and fuse have two, a MOSFET drain, gate and source, a reference cathode and anode.
 */
export interface Component {
  readonly kind: ComponentKind;
  /** Ohm, farad, or volt; of a fuse its cold ohm. */
  readonly amount: number;
  readonly nodes: readonly string[];
  /** As it stands on a shopping list: "1 kΩ". */
  readonly name: string;
}

export function resistor(ohm: number, from: string, to: string, name = ohmText(ohm)): Component {
  return { kind: 'resistor', amount: ohm, nodes: [from, to], name };
}

export function capacitor(nanofarad: number, from: string, to: string): Component {
  const name = nanofarad >= 1000 ? `${nanofarad / 1000} µF` : `${nanofarad} nF`;
  return { kind: 'capacitor', amount: nanofarad * 1e-9, nodes: [from, to], name };
}

/** Resettable fuse of a cable: holds 50 mA for good. */
export function fuse(from: string, to: string): Component {
  return { kind: 'fuse', amount: fuseOhm, nodes: [from, to], name: 'resettable fuse, 50 mA' };
}

/** `10 kΩ`, `330 Ω`, `4.7 kΩ` */
export function ohmText(ohm: number): string {
  if (ohm >= 1_000_000) return `${Number((ohm / 1_000_000).toPrecision(3))} MΩ`;
  return ohm >= 1000 ? `${Number((ohm / 1000).toPrecision(3))} kΩ` : `${ohm} Ω`;
}
