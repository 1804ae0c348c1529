import type { DryDown } from '../model/farm-model.js';

/** One point of a drying curve, counted from the watering. */
export interface CurveSample {
  readonly elapsedH: number;
  readonly waterContentM3PerM3: number;
}

/** A dry-down as it is kept for review: with what the tray was at that time. What was not known then is absent. */
export interface DryDownSummary extends DryDown {
  readonly benchId?: string | undefined;
  readonly blockSideMm?: number | undefined;
  readonly blockCount?: number | undefined;
  readonly crop?: string | undefined;
  readonly medium?: string | undefined;
  /** Days from sowing to the watering that began it. */
  readonly ageDays?: number | undefined;
  /** Before germination blocks dry under cover and without leaves; after it the plants drink too. */
  readonly stage?: 'germinating' | 'growing' | undefined;
  readonly covered?: boolean | undefined;
}

/**
 * A kept dry-down with its curve. The samples are the model's water content (which follows the probe where there is one),
 * so that trays without a probe have curves too.
 */
export interface KeptDryDown extends DryDownSummary {
  readonly samples: readonly CurveSample[];
}
