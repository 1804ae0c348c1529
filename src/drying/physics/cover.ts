import type { Cover } from '../../../shared/config/trays.js';

/**
 * Share of the open bench's loss to dry air that goes on under a cover. Film laid over: FAO-56 Table 25 text gives cuts of 50 to
 * 80 % (0.3 is its middle); a closed dome is limited by leakage (20 air changes an hour of a 5 cm headspace pass 4 to
 * 5 %); the loose dome is judgement between the two.
 */
export const COVER_FACTOR: Readonly<Record<Cover, number>> = {
  none: 1,
  film: 0.3,
  'loose-dome': 0.15,
  'tight-dome': 0.05,
};

/**
 * The same for what sun drives off. Light comes through and the film cannot keep its heat in, so a cover spares less of this: most leaves
 * by the film (some 15 W/m²K with its sides; from memory), a tenth to a fifth as vapour that leaks, where an open tray gives off half.
 * Judgement between those.
 */
export const COVER_SUN_FACTOR: Readonly<Record<Cover, number>> = {
  none: 1,
  film: 0.4,
  'loose-dome': 0.25,
  'tight-dome': 0.15,
};

/** Standard deviation of the natural log of the cover factor: how unsure the prior is (judgement). */
export const COVER_LOG_SD: Readonly<Record<Cover, number>> = {
  none: 0,
  film: 0.35,
  'loose-dome': 0.5,
  'tight-dome': 0.6,
};
