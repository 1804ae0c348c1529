import type { Component } from '../../../src/board/wiring/cards/component.js';
import type { BoardPlan } from '../../../src/board/wiring/plan/wiring-plan.js';
import type { Element } from './solve.js';

/** What hangs at the far ends of the cables, by card id. */
export type Part =
  | { readonly kind: 'blade'; readonly volts: number; readonly outOhm: number }
  | { readonly kind: 'between'; readonly ends: readonly [string, string]; readonly ohm: number };

export interface Surroundings {
  readonly railVolts: number;
  /** Of a driven pin. */
  readonly pinOhm: number;
  readonly parts: ReadonlyMap<string, Part>;
  /** Scales a component's amount, for tolerances. */
  readonly spread?: (component: Component) => number;
  /** Wires cut, shorts and leaks. */
  readonly faults?: readonly Element[];
  /** Leads that are cut, as "card:terminal". */
  readonly cut?: readonly string[];
}

/** 0.0172 ohm mm2/m over 0.14 mm2. */
const leadOhmPerM = 0.123;
const bladeAmpere = 0.005;
/** Open MOSFETs: what the guide's shopping list asks for, and a small N-type. */
const onOhm = { 'p-mosfet': 0.06, 'n-mosfet': 2 } as const;
/** A shunt reference's own resistance (from memory). */
const referenceOhm = 0.5;

/** The circuit of a drawing with probe power on, as a netlist: nothing is in it that the drawing has not. */
export function netlistOf(plan: BoardPlan, around: Surroundings): Element[] {
  const { railVolts, pinOhm, parts, spread = () => 1, faults = [], cut = [] } = around;
  const elements: Element[] = [{ kind: 'volts', node: plan.supplyName, volts: railVolts }, ...faults];
  const r = (a: string, b: string, ohm: number) => elements.push({ kind: 'resistor', a, b, ohm });
  const power = plan.board.probePower;
  if (power?.through === 'pin') r(plan.supplyName, 'PWR', pinOhm);
  if (power?.through === 'load-switch') r(plan.supplyName, `D${power.pin}`, pinOhm);
  for (const card of plan.cards) {
    for (const component of card.components) {
      const [a = '', b = '', c = ''] = component.nodes;
      const amount = component.amount * spread(component);
      if (component.kind === 'resistor' || component.kind === 'fuse') r(a, b, amount);
      if (component.kind === 'p-mosfet' || component.kind === 'n-mosfet') r(a, c, onOhm[component.kind]);
      if (component.kind === 'reference') {
        r(a, b, referenceOhm);
        elements.push({ kind: 'current', from: b, to: a, ampere: amount / referenceOhm });
      }
    }
    for (const { name, net, behindNode, cableM } of card.terminals)
      if (cableM !== undefined && !cut.includes(`${card.id}:${name}`))
        r(behindNode ?? net, `${card.id}:${name}`, Math.max(1e-3, cableM * leadOhmPerM));
    const part = parts.get(card.id);
    const at = (terminal: string) => `${card.id}:${terminal}`;
    if (part?.kind === 'blade') {
      elements.push({ kind: 'current', from: at('VCC'), to: at('GND'), ampere: bladeAmpere });
      r(at('OUT'), at('GND'), part.outOhm);
      elements.push({ kind: 'current', from: at('GND'), to: at('OUT'), ampere: part.volts / part.outOhm });
    }
    if (part?.kind === 'between') r(part.ends[0], part.ends[1], part.ohm);
  }
  return elements;
}
