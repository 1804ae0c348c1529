/**
 * Properties of moist air near 22 °C and 101 kPa, constant over a bench's 5 to 45 °C: the error stays under 8 % at the
 * ends and mostly cancels, because each enters with a power of a half or less. Textbook values, from memory.
 */
export const AIR = {
  kinematicViscosityM2PerS: 1.53e-5,
  thermalDiffusivityM2PerS: 2.16e-5,
  vapourDiffusivityM2PerS: 2.49e-5,
  thermalConductivityWPerMK: 0.0257,
  prandtl: 0.71,
  schmidt: 0.61,
  volumetricHeatJPerM3K: 1212,
} as const;

/** Latent heat of vaporisation, J/kg (FAO-56, annex 3: 2.45 MJ/kg). */
export const LATENT_HEAT_J_PER_KG = 2.45e6;
export const ZERO_CELSIUS_K = 273.15;
export const GRAVITY_M_PER_S2 = 9.81;
/**
 * Lewis: vapour conductance over heat conductance, Le^(−2/3) with Le = α/D = 0.87. A face therefore passes vapour a
 * tenth more readily than heat.
 */
export const VAPOUR_TO_HEAT_CONDUCTANCE = 1.1;
/** Linearised longwave exchange of a face near 20 °C, W/(m² K): 4 εσT³. */
export const LONGWAVE_W_PER_M2_K = 5.7;
