import { describe, it } from 'vitest';
import { type Belief, newBelief } from '../../src/drying/filter/belief.js';
import { scalarUpdate } from '../../src/drying/filter/scalar-update.js';
import { SharedState } from '../../src/drying/filter/shared-state.js';
import { comparisonsOf } from './comparison.js';

const compare = comparisonsOf('kalman');

/** Scalar example of a well-known tutorial: a constant state, measurement variance 25, start 60 with variance 225. */
const MEASURED = [48.54, 47.11, 55.01, 55.15, 49.89, 40.85, 46.72, 50.05, 51.27, 49.95];
const STATES = [49.69, 48.47, 50.57, 51.68, 51.33, 49.62, 49.21, 49.31, 49.53, 49.57];
const VARIANCES = [22.5, 11.84, 8.04, 6.08, 4.89, 4.09, 3.52, 3.08, 2.74, 2.47];

/** Annual flow of the Nile at Aswan 1871–1970 (Durbin & Koopman). */
const NILE = [
  1120, 1160, 963, 1210, 1160, 1160, 813, 1230, 1370, 1140, 995, 935, 1110, 994, 1020, 960, 1180, 799, 958,
  1140, 1100, 1210, 1150, 1250, 1260, 1220, 1030, 1100, 774, 840, 874, 694, 940, 833, 701, 916, 692, 1020,
  1050, 969, 831, 726, 456, 824, 702, 1120, 1100, 832, 764, 821, 768, 845, 864, 862, 698, 845, 744, 796, 1040,
  759, 781, 865, 845, 944, 984, 897, 822, 1010, 771, 676, 649, 846, 812, 742, 801, 1040, 860, 874, 848, 890,
  744, 749, 838, 1050, 918, 986, 797, 923, 975, 815, 1020, 906, 901, 1170, 912, 746, 919, 718, 714, 740,
];
const NO_LINKS = new Int32Array(0);
const ONE = Float64Array.of(1);

function scalarBelief(mean: number, variance: number): Belief {
  const belief = newBelief(1, NO_LINKS, new SharedState());
  belief.mean[0] = mean;
  belief.covariance[0] = variance;
  return belief;
}

const at = (list: Float64Array): number => list[0] ?? Number.NaN;

describe("the farm's own filter", () => {
  it("meets the tutorial's list as a tray's local state", () => {
    const belief = scalarBelief(60, 225);
    MEASURED.forEach((measured, i) => {
      const innovation = measured - at(belief.mean);
      scalarUpdate(
        belief,
        NO_LINKS,
        new SharedState(),
        { innovation, localSlope: ONE, noiseVariance: 25 },
        false,
      );
      compare('state', at(belief.mean), STATES[i] ?? 0);
      compare('variance', at(belief.covariance), VARIANCES[i] ?? 0);
    });
  });

  it('meets the same list when the state is shared between trays', () => {
    const shared = new SharedState();
    const links = Int32Array.of(
      shared.ensure({ name: 'level', priorMean: 60, priorSd: 15, wanderVarPerH: 0 }),
    );
    const belief = newBelief(1, links, shared);
    MEASURED.forEach((measured, i) => {
      const innovation = measured - shared.meanOf(0);
      scalarUpdate(
        belief,
        links,
        shared,
        { innovation, localSlope: Float64Array.of(0), sharedSlope: ONE, noiseVariance: 25 },
        true,
      );
      compare('state', shared.meanOf(0), STATES[i] ?? 0);
      compare('variance', shared.varianceOf(0), VARIANCES[i] ?? 0);
    });
  });

  it('meets the local level of the Nile: likelihood, last level and its variances', () => {
    const levelVariance = 1469.1;
    const noiseVariance = 15_099;
    const [first = 0, ...rest] = NILE;
    const belief = scalarBelief(first, noiseVariance);
    let logLikelihood = 0;
    for (const flow of rest) {
      belief.covariance[0] = at(belief.covariance) + levelVariance;
      const innovation = flow - at(belief.mean);
      const spread = at(belief.covariance) + noiseVariance;
      logLikelihood -= 0.5 * (Math.log(2 * Math.PI * spread) + innovation ** 2 / spread);
      scalarUpdate(
        belief,
        NO_LINKS,
        new SharedState(),
        { innovation, localSlope: ONE, noiseVariance },
        false,
      );
    }
    compare('Nile log-likelihood', logLikelihood, -632.5456);
    compare('Nile level and variances', at(belief.mean), 798.37);
    compare('Nile level and variances', at(belief.covariance) + levelVariance, 5501.26);
    compare('Nile level and variances', at(belief.covariance), 4032.16);
  });
});
