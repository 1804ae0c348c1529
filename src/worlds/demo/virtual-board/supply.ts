import type { BoardConfig, HookupOf } from '../../../../shared/config/kit/hookup.js';
import type { RandomSource } from '../virtual-bench/air/random-source.js';

export type AnalogHookup = HookupOf<
  'capacitive-moisture' | 'thermistor' | 'photo-resistor' | 'phototransistor'
>;

/** How good or bad the house's supply is. All volts and ohms are of the board's 5 V rail. */
export interface SupplyPlan {
  /** At the USB port, no load. USB 2.0 allows 4.75 to 5.25 V there (from memory); a long lead takes more. */
  readonly sourceVolts: number;
  /** Port and lead. */
  readonly sourceOhm: number;
  /** Converter noise, standard deviation, counts. */
  readonly noiseCounts: number;
  /** Mains hum that a metre of cable catches, volts rms. */
  readonly humVoltsPerM: number;
  readonly mainsHz: number;
}

/** A port with a fair lead, screened cables in a house with mains beside them. */
export const fairSupply: SupplyPlan = {
  sourceVolts: 4.95,
  sourceOhm: 0.35,
  noiseCounts: 0.4,
  humVoltsPerM: 0.0002,
  mainsHz: 50,
};

const boardMa = 50;
const bladeMa = 5;
const lampMa = 10;
/** A driven pin of an ATmega328P looks like this (from memory). */
const pinOhm = 30;
const leadOhmPerM = 0.123;
const usualCableM = 3;
/** A bead in still air (from memory): what it warms by per milliwatt. */
const beadKPerMw = 0.7;
const countsFull = 1024;

/** The rail of a virtual board under its load, and what cables add to a signal. */
export interface VirtualSupply {
  railVolts(outputs: ReadonlyMap<number, boolean>): number;
  /** Top of the switched parts; 0 while probe power is off. */
  topVolts(outputs: ReadonlyMap<number, boolean>): number;
  /** What the cable adds to a signal now: lift of its ground by the part's own current, and hum. */
  cableVolts(hookup: AnalogHookup, atMs: number): number;
  noiseVolts(railVolts: number): number;
  /** Warmth of a thermistor's bead above the air, kelvin, when it is fed all day. */
  selfHeatingK(hookup: HookupOf<'thermistor'>, railVolts: number): number;
}

export function createSupply(
  board: BoardConfig,
  hookups: readonly AnalogHookup[],
  plan: SupplyPlan,
  random: RandomSource,
): VirtualSupply {
  const { probePower, callPost } = board;
  const switchedMa = hookups.reduce(
    (sum, hookup) => sum + (hookup.part === 'capacitive-moisture' ? bladeMa : 1),
    0,
  );
  const isOn = (outputs: ReadonlyMap<number, boolean>): boolean =>
    probePower === undefined || outputs.get(probePower.pin) === true;
  const railVolts = (outputs: ReadonlyMap<number, boolean>): number => {
    const lit = callPost?.lampPin !== undefined && outputs.get(callPost.lampPin) === true;
    const milliamp = boardMa + (isOn(outputs) ? switchedMa : 0) + (lit ? lampMa : 0);
    return plan.sourceVolts - (plan.sourceOhm * milliamp) / 1000;
  };
  return {
    railVolts,
    topVolts: (outputs) => {
      if (!isOn(outputs)) return 0;
      const isByPin = probePower?.through === 'pin';
      return railVolts(outputs) - (isByPin ? (pinOhm * switchedMa) / 1000 : 0);
    },
    cableVolts: (hookup, atMs) => {
      const metres = hookup.cableM ?? usualCableM;
      const lift = hookup.part === 'capacitive-moisture' ? (bladeMa / 1000) * leadOhmPerM * metres : 0;
      const phase = 2 * Math.PI * plan.mainsHz * (atMs / 1000);
      return lift + Math.SQRT2 * plan.humVoltsPerM * metres * Math.sin(phase);
    },
    noiseVolts: (rail) => (random.normal(0, plan.noiseCounts) * rail) / countsFull,
    selfHeatingK: ({ fixedOhm }, rail) =>
      probePower === undefined ? beadKPerMw * ((rail * rail) / (4 * fixedOhm)) * 1000 : 0,
  };
}
