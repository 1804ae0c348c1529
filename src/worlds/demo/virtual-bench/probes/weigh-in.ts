import type { CalibrationPoint } from '../../../../../shared/config/kit/probes.js';
import type { RandomSource } from '../air/random-source.js';
import { type MoistureProbePlan, voltsOf } from './moisture-probe.js';

/** How well a kitchen scale and a hobbyist know a block's water content, m3/m3. */
const WEIGHING_SD = 0.008;

/**
 * Calibration points as a hobbyist gets them before the season: the probe in some other block, weighed with a kitchen
 * scale, so that gain, offset and drift of the probe in its witness block are not in them.
 * @param waterContents m3/m3, two or more, well apart
 */
export function weighIn(
  probe: Pick<MoistureProbePlan, 'dryVolts' | 'soakedVolts' | 'bend'>,
  waterContents: readonly number[],
  random: RandomSource,
): CalibrationPoint[] {
  return waterContents.map((water) => ({
    volts: Math.round(voltsOf(probe, water) * 1000) / 1000,
    waterContentM3PerM3:
      Math.round(Math.min(0.95, Math.max(0.01, random.normal(water, WEIGHING_SD))) * 1000) / 1000,
  }));
}
