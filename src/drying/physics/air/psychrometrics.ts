/** Psychrometrics of FAO Irrigation and Drainage Paper 56 (Allen et al. 1998), chapter 3. Equation numbers are FAO-56's. */

/** Standard atmosphere at sea level, kPa (ISO 2533). */
export const STANDARD_PRESSURE_KPA = 101.325;

/** Saturation vapour pressure over water (Eq 11), kPa, at `temperatureC` −20 to 60 °C. */
export function saturationVapourPressureKPa(temperatureC: number): number {
  return 0.6108 * Math.exp((17.27 * temperatureC) / (temperatureC + 237.3));
}

/** Slope of the saturation curve (Eq 13), kPa/K, at `temperatureC` −20 to 60 °C. */
export function saturationSlopeKPaPerK(temperatureC: number): number {
  const fromPole = temperatureC + 237.3;
  return (4098 * saturationVapourPressureKPa(temperatureC)) / (fromPole * fromPole);
}

/** Psychrometric constant (Eq 8), kPa/K, at `pressureKPa`. */
export function psychrometricConstantKPaPerK(pressureKPa: number): number {
  return 0.665e-3 * pressureKPa;
}

/** Actual vapour pressure (Eq 54), kPa, from temperature °C and relative humidity 0 to 100 %. */
export function vapourPressureKPa(temperatureC: number, relativeHumidityPct: number): number {
  return (saturationVapourPressureKPa(temperatureC) * relativeHumidityPct) / 100;
}

/**
 * Vapour pressure deficit, kPa, from temperature °C and relative humidity 0 to 100 %; 0 at saturation and, for a
 * sensor that reads above 100 %, still 0.
 */
export function vpdKPa(temperatureC: number, relativeHumidityPct: number): number {
  const deficit = 1 - relativeHumidityPct / 100;
  return deficit > 0 ? saturationVapourPressureKPa(temperatureC) * deficit : 0;
}
