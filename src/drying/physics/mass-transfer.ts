import { AIR, GRAVITY_M_PER_S2, VAPOUR_TO_HEAT_CONDUCTANCE, ZERO_CELSIUS_K } from './air.js';

/** Air never stands quite still on a bench: floor of the speed, m/s (leaf boundary-layer models use the same). */
export const STILLEST_AIR_M_PER_S = 0.05;
/** Temperature difference between a wet, shaded block and its air at 20 °C and 60 %, K; only buoyancy uses it. */
export const USUAL_COOLING_K = 4;
const USUAL_AIR_C = 20;

/** Reynolds number of a face of `lengthM` in air of `airSpeedMPerS`. */
export function reynolds(lengthM: number, airSpeedMPerS: number): number {
  return (airSpeedMPerS * lengthM) / AIR.kinematicViscosityM2PerS;
}

/** Grashof number of a face of `lengthM` that differs from its air by `coolingK` (sign does not matter). */
export function grashof(lengthM: number, coolingK: number, airC = USUAL_AIR_C): number {
  const nu = AIR.kinematicViscosityM2PerS;
  return (GRAVITY_M_PER_S2 * Math.abs(coolingK) * lengthM ** 3) / ((airC + ZERO_CELSIUS_K) * nu * nu);
}

/** Nusselt (or, with Schmidt for Prandtl, Sherwood) number of a laminar flat plate in forced flow: 0.664 Re^½ Pr^⅓. */
export function forcedPlateNusselt(reynoldsNumber: number, prandtl: number): number {
  return 0.664 * Math.sqrt(reynoldsNumber) * Math.cbrt(prandtl);
}

/** Rayleigh number above which the active side of a plate turns turbulent (McAdams). */
const TURBULENT_RAYLEIGH = 1e7;

/**
 * Natural convection of a horizontal plate (McAdams 1954): active side (warm face up or cool face down)
 * 0.54 Ra^¼, above Ra 10⁷ 0.15 Ra^⅓; inactive side 0.27 Ra^¼.
 */
export function naturalPlateNusselt(rayleigh: number, side: 'active' | 'inactive'): number {
  if (side === 'inactive') return 0.27 * rayleigh ** 0.25;
  return rayleigh <= TURBULENT_RAYLEIGH ? 0.54 * rayleigh ** 0.25 : 0.15 * Math.cbrt(rayleigh);
}

/** Mixed convection of small faces in a greenhouse (Stanghellini 1987): 0.37 (Gr + 6.92 Re²)^¼. */
export function mixedNusselt(grashofNumber: number, reynoldsNumber: number): number {
  return 0.37 * (grashofNumber + 6.92 * reynoldsNumber * reynoldsNumber) ** 0.25;
}

/** Convective heat transfer of one free face, W/(m² K). Side 10 to 300 mm and beyond, any air speed (floored). */
export function faceHeatTransferWPerM2K(
  sideMm: number,
  airSpeedMPerS: number,
  coolingK = USUAL_COOLING_K,
): number {
  const lengthM = sideMm / 1000;
  const speed = Math.max(airSpeedMPerS, STILLEST_AIR_M_PER_S);
  const nusselt = mixedNusselt(grashof(lengthM, coolingK), reynolds(lengthM, speed));
  return (nusselt * AIR.thermalConductivityWPerMK) / lengthM;
}

/** Vapour conductance k_c of one free wet face, m/s: k_c = 1.10 h/(ρ c_p) (Lewis). */
export function faceVapourConductanceMPerS(
  sideMm: number,
  airSpeedMPerS: number,
  coolingK = USUAL_COOLING_K,
): number {
  return (
    (VAPOUR_TO_HEAT_CONDUCTANCE * faceHeatTransferWPerM2K(sideMm, airSpeedMPerS, coolingK)) /
    AIR.volumetricHeatJPerM3K
  );
}

/** The same for purely forced laminar flow, Sh = 0.664 Re^½ Sc^⅓, m/s; for comparison with handbook tables. */
export function forcedVapourConductanceMPerS(sideMm: number, airSpeedMPerS: number): number {
  const lengthM = sideMm / 1000;
  return (
    (forcedPlateNusselt(reynolds(lengthM, airSpeedMPerS), AIR.schmidt) * AIR.vapourDiffusivityM2PerS) /
    lengthM
  );
}
