import type { Cover } from '../../../shared/config/trays.js';

/** What a forecast is made under that is not so, or not known to be so. */
export type Supposition =
  /** As it stands: the very forecast, but not kept to be scored. */
  | { readonly what: 'as-it-is' }
  /** The coming days are like the mean of the ensemble's tenth that has the most or least sun, or the driest or dampest air. */
  | { readonly what: 'sunny' | 'dull' | 'dry-air' | 'damp-air' }
  | { readonly what: 'cover'; readonly cover: Cover }
  /** Nothing had been learned of how fast this tray dries beside others of its size. */
  | { readonly what: 'tray-unlearned' }
  /** Nothing had been learned from any tray: size, bench and farm dry as physics and priors say. */
  | { readonly what: 'farm-unlearned' };
