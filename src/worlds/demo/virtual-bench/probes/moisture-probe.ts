import { MS_PER_DAY, MS_PER_HOUR } from '../../../../../shared/base/time-units.js';
import type { RandomSource } from '../air/random-source.js';
import { createWanderingValue } from '../air/wandering-value.js';
import type { BlockBody } from '../trays/block-body.js';
import { faultAt, type ProbeFault } from './probe-faults.js';

/** A capacitive probe in a witness block; every error is drawn per probe. */
export interface MoistureProbePlan {
  readonly id: string;
  readonly trayId: string;
  readonly faults: readonly ProbeFault[];
  /** Its curve: volts of a dry and a soaked block, and how bent it is between (0 straight). */
  readonly dryVolts: number;
  readonly soakedVolts: number;
  readonly bend: number;
  /** How much of what it sees is the outer layer, 0 to 1. */
  readonly seesShellShare: number;
  /** The witness block against the tray's others. */
  readonly witnessLossFactor: number;
  readonly witnessCapacityOffset: number;
  readonly witnessOutwardSides: 'corner' | 'edge' | 'inner';
  readonly gain: number;
  readonly offsetM3PerM3: number;
  readonly driftM3PerM3PerDay: number;
  readonly temperatureM3PerM3PerK: number;
  readonly wanderSdM3PerM3: number;
  readonly wanderMemoryH: number;
  readonly noiseSdM3PerM3: number;
  readonly lagH: number;
  /** For some hours after a watering the wet front makes it read wrong by this much. */
  readonly wickingM3PerM3: number;
  readonly wickingH: number;
  /** It loses touch with the shrinking block below this; 0: never. */
  readonly losesContactBelowM3PerM3: number;
  /** Step of the converter, V; 0: none. */
  readonly quantumVolts: number;
}

/** Water content that a soaked block cannot pass in the curve's scale, m3/m3. */
const CURVE_SPAN = 0.85;

/** Volts that this kind of probe gives at a water content: falls as it gets wetter, flatter at the wet end. */
export function voltsOf(
  plan: Pick<MoistureProbePlan, 'dryVolts' | 'soakedVolts' | 'bend'>,
  waterM3PerM3: number,
): number {
  const share = Math.max(-0.05, Math.min(1.1, waterM3PerM3 / CURVE_SPAN));
  const bent = plan.bend < 0.01 ? share : (1 - Math.exp(-plan.bend * share)) / (1 - Math.exp(-plan.bend));
  return plan.dryVolts + (plan.soakedVolts - plan.dryVolts) * bent;
}

export interface MoistureProbe {
  readonly plan: MoistureProbePlan;
  /** Volts at an instant; undefined: no answer. Instants must not go back. */
  read(atMs: number, witness: BlockBody, blockTemperatureC: number, lastPourAtMs: number): number | undefined;
}

export function createMoistureProbe(plan: MoistureProbePlan, random: RandomSource): MoistureProbe {
  const wander = createWanderingValue(plan.wanderSdM3PerM3, plan.wanderMemoryH, random.fork('wander'));
  const noise = random.fork('noise');
  const trouble = random.fork('trouble');
  let firstMs: number | undefined;
  let lastMs = 0;
  let laggedM3PerM3 = 0;
  let lastVolts: number | undefined;

  const quantised = (volts: number): number =>
    plan.quantumVolts > 0 ? Math.round(volts / plan.quantumVolts) * plan.quantumVolts : volts;

  return {
    plan,
    read: (atMs, witness, blockTemperatureC, lastPourAtMs) => {
      const seen =
        plan.seesShellShare * witness.shellM3PerM3 + (1 - plan.seesShellShare) * witness.coreM3PerM3;
      if (firstMs === undefined) {
        firstMs = atMs;
        lastMs = atMs;
        laggedM3PerM3 = seen;
      }
      const elapsedH = Math.max(0, atMs - lastMs) / MS_PER_HOUR;
      lastMs = atMs;
      laggedM3PerM3 += (seen - laggedM3PerM3) * (1 - Math.exp(-elapsedH / plan.lagH));
      wander.advance(elapsedH);

      const sincePourH = (atMs - lastPourAtMs) / MS_PER_HOUR;
      const wicking = sincePourH >= 0 ? plan.wickingM3PerM3 * Math.exp(-sincePourH / plan.wickingH) : 0;
      const days = (atMs - firstMs) / MS_PER_DAY;
      let read =
        laggedM3PerM3 * plan.gain +
        plan.offsetM3PerM3 +
        plan.driftM3PerM3PerDay * days +
        plan.temperatureM3PerM3PerK * (blockTemperatureC - 20) +
        wander.value +
        wicking +
        noise.normal(0, plan.noiseSdM3PerM3);
      if (laggedM3PerM3 < plan.losesContactBelowM3PerM3) read -= 0.12 + noise.normal(0, 0.02);

      const fault = faultAt(plan.faults, atMs);
      if (fault === 'drop-outs' && trouble.chance(0.6)) return undefined;
      if (fault === 'unplugged') return quantised(Math.max(0, 0.004 + noise.normal(0, 0.003)));
      if (fault === 'stuck' && lastVolts !== undefined) return lastVolts;
      if (fault === 'spikes' && trouble.chance(0.15)) read += trouble.between(-0.4, 0.4);
      lastVolts = quantised(voltsOf(plan, read));
      return lastVolts;
    },
  };
}
