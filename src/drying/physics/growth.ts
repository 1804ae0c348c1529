/**
 * Growth of water use from emergence to transplant size. Fujimoto et al. (stock in a bottom-watered flat of 12 mL
 * cells): the loss grew 1.7-fold over the seedling stage while leaf area grew 7-fold.
 */
export const TRANSPLANT_SIZE_FACTOR = 1.7;
/** Days from emergence to transplant size, common practice for vegetable seedlings: four to five weeks. */
export const DAYS_TO_TRANSPLANT_SIZE = 32;

/**
 * Loss of a tray relative to the same tray at emergence, 1 to 1.7; `daysSinceGermination` below 0 or absent: 1. A
 * half-cosine: slow at the cotyledon stage, fastest midway, level at transplant size.
 */
export function growthFactor(daysSinceGermination: number | undefined): number {
  if (daysSinceGermination === undefined || !(daysSinceGermination > 0)) return 1;
  const share =
    daysSinceGermination >= DAYS_TO_TRANSPLANT_SIZE ? 1 : daysSinceGermination / DAYS_TO_TRANSPLANT_SIZE;
  return 1 + (TRANSPLANT_SIZE_FACTOR - 1) * 0.5 * (1 - Math.cos(Math.PI * share));
}
