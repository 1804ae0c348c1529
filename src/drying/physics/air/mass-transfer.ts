import { MM_PER_M } from '../../../../shared/base/metric-units.js';
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
  const lengthM = sideMm / MM_PER_M;
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
