import type { LookLevel } from '../../../../../shared/facts/tray-life.js';

/**
 * The colours of the five-step scale of plug growers (University of Florida IFAS: 5 saturated, 4 full without free
 * water, 3 drying, 2 light brown, 1 dry). Where on the moisture index each is drawn is our choice.
 */
export const LOOK_LEVELS: readonly { readonly level: LookLevel; readonly moistureIndex: number }[] = [
  { level: 1, moistureIndex: -0.25 },
  { level: 2, moistureIndex: 0 },
  { level: 3, moistureIndex: 0.45 },
  { level: 4, moistureIndex: 0.85 },
  { level: 5, moistureIndex: 1 },
];
