/**
 * Two-stage drying: a constant-rate stage until the water content falls to the knee, then a rate that falls in
 * proportion to what is left above the dry end. FAO-56 Eq 74 (Kr) and the characteristic drying curve of chemical
 * engineering (van Meel) are this one function.
 */

/**
 * Share of the potential rate at which a block still dries, 0 to 1: 1 above `knee`, 0 at and below `dryEnd`, linear
 * between. Any one unit of water for all three; `knee` at or below `dryEnd` means constant rate down to `dryEnd`.
 */
export function dryingRateFactor(waterContent: number, knee: number, dryEnd: number): number {
  if (waterContent >= knee) return waterContent > dryEnd ? 1 : 0;
  if (waterContent <= dryEnd) return 0;
  return (waterContent - dryEnd) / (knee - dryEnd);
}

/**
 * Water content after `potentialDrying` (the integral of the potential rate, same unit as the water content, ≥ 0):
 * the exact solution of dθ/dP = −f(θ), so a step of any length costs one call and has no integration error.
 */
export function dryBy(waterContent: number, potentialDrying: number, knee: number, dryEnd: number): number {
  if (waterContent <= dryEnd || potentialDrying <= 0) return waterContent;
  if (knee <= dryEnd) return Math.max(dryEnd, waterContent - potentialDrying);
  const untilKnee = waterContent - knee;
  if (potentialDrying <= untilKnee) return waterContent - potentialDrying;
  const above = untilKnee > 0 ? knee - dryEnd : waterContent - dryEnd;
  const inFalling = untilKnee > 0 ? potentialDrying - untilKnee : potentialDrying;
  return dryEnd + above * Math.exp(-inFalling / (knee - dryEnd));
}

/**
 * Potential drying needed to fall from `waterContent` to `target` (inverse of `dryBy`); 0 when already there,
 * Infinity when the target is at or below the dry end of a falling-rate stage.
 */
export function potentialDryingUntil(
  waterContent: number,
  target: number,
  knee: number,
  dryEnd: number,
): number {
  if (waterContent <= target) return 0;
  if (target >= knee) return waterContent - target;
  if (knee <= dryEnd) return target >= dryEnd ? waterContent - target : Number.POSITIVE_INFINITY;
  if (target <= dryEnd) return Number.POSITIVE_INFINITY;
  const constantStage = waterContent > knee ? waterContent - knee : 0;
  const fallingFrom = Math.min(waterContent, knee);
  return constantStage + (knee - dryEnd) * Math.log((fallingFrom - dryEnd) / (target - dryEnd));
}
