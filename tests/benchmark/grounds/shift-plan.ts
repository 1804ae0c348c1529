import type { RandomSource } from '../../../src/worlds/demo/virtual-bench/air/random-source.js';
import type { FarmPlan } from '../../../src/worlds/demo/virtual-bench/virtual-bench.js';

/**
 * The same farm beyond the ranges that the model's priors were set on: media that hold more or less, refill points elsewhere,
 * more leaf, covers that hold less or more, witnesses further off, noisier probes. Every range is judgement: it lies outside
 * of, or twice as wide as, what `draw-plan` draws.
 */
export function shiftPlan(plan: FarmPlan, random: RandomSource): FarmPlan {
  return {
    ...plan,
    trays: plan.trays.map((one) => {
      const { tray } = one;
      const containerCapacityM3PerM3 = random.pick([random.between(0.4, 0.5), random.between(0.72, 0.82)]);
      const refillPointM3PerM3 =
        containerCapacityM3PerM3 * random.pick([random.between(0.3, 0.42), random.between(0.62, 0.72)]);
      const coverTimes = random.pick([0.4, 2]);
      return {
        ...one,
        tray: {
          ...tray,
          refillPointM3PerM3,
          medium: {
            ...tray.medium,
            containerCapacityM3PerM3,
            surfaceDryBelowM3PerM3: refillPointM3PerM3 * random.between(0.75, 1.12),
          },
          seedlings: {
            ...tray.seedlings,
            finalLeafAreaIndex: random.between(1.8, 3),
            closesBelowM3PerM3: refillPointM3PerM3 * random.between(0.7, 1),
          },
          coverFactor: {
            none: 1,
            film: tray.coverFactor.film * coverTimes,
            'loose-dome': tray.coverFactor['loose-dome'] * coverTimes,
            'tight-dome': tray.coverFactor['tight-dome'] * coverTimes,
          },
        },
      };
    }),
    moistureProbes: plan.moistureProbes.map((probe) => ({
      ...probe,
      witnessCapacityOffset: random.pick([-1, 1] as const) * random.between(0.04, 0.08),
      noiseSdM3PerM3: random.between(0.006, 0.015),
      wanderSdM3PerM3: random.between(0.012, 0.025),
    })),
  };
}
