import { MS_PER_HOUR } from '../../../../../shared/base/time-units.js';
import type { BenchAir } from '../air/greenhouse-air.js';
import type { RandomSource } from '../air/random-source.js';
import { relativeHumidityPct } from '../air/vapour.js';
import { createWanderingValue } from '../air/wandering-value.js';
import { faultAt, type ProbeFault } from './probe-faults.js';

/** A thermometer, hygrometer or light sensor on a bench, with its errors. */
export interface ClimateProbePlan {
  readonly id: string;
  readonly benchId: string;
  readonly kind: 'air-temperature' | 'relative-humidity' | 'light';
  readonly unit?: 'lx' | 'W/m2' | undefined;
  readonly faults: readonly ProbeFault[];
  readonly gain: number;
  /** °C, % or W/m2 by kind. */
  readonly offset: number;
  readonly noiseSd: number;
  readonly wanderSd: number;
  readonly lagH: number;
  /** Sun on the housing warms it: K per W/m2. A hygrometer in that housing then reads too dry. */
  readonly sunHeatingKPerWPerM2: number;
}

/** Luminous efficacy of daylight, lm/W: about 110 to 120 under most skies (common figure, from memory). */
const LUX_PER_W_PER_M2 = 115;

export interface ClimateProbe {
  readonly plan: ClimateProbePlan;
  /** Raw value at an instant in °C, %, lx or W/m2; undefined: no answer. */
  read(atMs: number, air: BenchAir): number | undefined;
}

export function createClimateProbe(plan: ClimateProbePlan, random: RandomSource): ClimateProbe {
  const wander = createWanderingValue(plan.wanderSd, 6, random.fork('wander'));
  const noise = random.fork('noise');
  const trouble = random.fork('trouble');
  let lastMs: number | undefined;
  let lagged = 0;
  let lastValue: number | undefined;

  const truthOf = (air: BenchAir): number => {
    const housingC = air.temperatureC + plan.sunHeatingKPerWPerM2 * air.solarWPerM2;
    if (plan.kind === 'air-temperature') return housingC;
    if (plan.kind === 'relative-humidity') return relativeHumidityPct(air.vapourKPa, housingC);
    return air.solarWPerM2;
  };

  return {
    plan,
    read: (atMs, air) => {
      const truth = truthOf(air);
      const elapsedH = lastMs === undefined ? 0 : Math.max(0, atMs - lastMs) / MS_PER_HOUR;
      lagged =
        lastMs === undefined ? truth : lagged + (truth - lagged) * (1 - Math.exp(-elapsedH / plan.lagH));
      lastMs = atMs;
      wander.advance(elapsedH);
      let value = lagged * plan.gain + plan.offset + wander.value + noise.normal(0, plan.noiseSd);
      if (plan.kind === 'relative-humidity') value = Math.min(100, Math.max(0, value));
      if (plan.kind === 'light')
        value = Math.max(0, lagged * plan.gain + plan.offset) * (plan.unit === 'W/m2' ? 1 : LUX_PER_W_PER_M2);

      const fault = faultAt(plan.faults, atMs);
      if (fault === 'unplugged' || (fault === 'drop-outs' && trouble.chance(0.6))) return undefined;
      if (fault === 'stuck' && lastValue !== undefined) return lastValue;
      if (fault === 'spikes' && trouble.chance(0.15)) value += trouble.between(-15, 15);
      lastValue = Math.round(value * 100) / 100;
      return lastValue;
    },
  };
}
