/**
 * Growth enters through leaf area: leaves are wet surface beside the blocks', which takes up heat from the air as it gives off
 * vapour, so that no stage can evaporate more than the energy that is there. Days from emergence to transplant size, common
 * practice for vegetable seedlings: four to five weeks.
 */
export const DAYS_TO_TRANSPLANT_SIZE = 32;
/**
 * Vapour conductance of the leaves over a tray at transplant size, by day, m/s per m² of tray. Set so that the usual trays lose
 * 1.7 times as much as at emergence in mild weather: Fujimoto et al. (stock in a bottom-watered flat of 12 mL cells; read in
 * the abstract) had that over the seedling stage, while leaf area grew 7-fold.
 */
export const LEAF_CONDUCTANCE_M_PER_S = 0.014;
/** Share of it that is left when stomata are closed: cuticle and stomata that do not close (5 to 15 %; from memory). */
const DARK_LEAF_SHARE = 0.1;
/** Sun below which stomata are closed, W/m²: deep dusk. */
const DARK_BELOW_W_PER_M2 = 5;

/**
 * Leaf area of a tray as a share of that at transplant size, 0 to 1; `daysSinceGermination` below 0 or absent: 0. A half-cosine:
 * slow at the cotyledon stage, fastest midway, level at transplant size.
 */
export function leafShare(daysSinceGermination: number | undefined): number {
  if (daysSinceGermination === undefined || !(daysSinceGermination > 0)) return 0;
  const share =
    daysSinceGermination >= DAYS_TO_TRANSPLANT_SIZE ? 1 : daysSinceGermination / DAYS_TO_TRANSPLANT_SIZE;
  return 0.5 * (1 - Math.cos(Math.PI * share));
}

/** Vapour conductance of this share of leaves in this sun, m/s per m² of tray. */
export function leafConductanceMPerS(share: number, solarWPerM2: number): number {
  return LEAF_CONDUCTANCE_M_PER_S * share * (solarWPerM2 < DARK_BELOW_W_PER_M2 ? DARK_LEAF_SHARE : 1);
}
