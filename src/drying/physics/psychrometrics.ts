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

/** Atmospheric pressure (Eq 7), kPa, at `elevationM` 0 to 5000 m above sea level. */
export function atmosphericPressureKPa(elevationM: number): number {
  return 101.3 * ((293 - 0.0065 * elevationM) / 293) ** 5.26;
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

/** Mean saturation vapour pressure of a day (Eq 12), kPa; not e0 of the mean temperature, which is too low. */
export function dailySaturationVapourPressureKPa(maxC: number, minC: number): number {
  return (saturationVapourPressureKPa(maxC) + saturationVapourPressureKPa(minC)) / 2;
}

/** Actual vapour pressure of a day (Eq 17), kPa, from its extremes; humidity peaks at the coldest hour. */
export function dailyVapourPressureKPa(
  minC: number,
  maxHumidityPct: number,
  maxC: number,
  minHumidityPct: number,
): number {
  return (
    (saturationVapourPressureKPa(minC) * maxHumidityPct +
      saturationVapourPressureKPa(maxC) * minHumidityPct) /
    200
  );
}

/** Psychrometer coefficient per K (Eq 15 and 16): how well the wet bulb is ventilated. */
export const PSYCHROMETER_PER_K = {
  /** Asmann type, about 5 m/s. */
  aspirated: 0.000662,
  /** Natural ventilation, about 1 m/s. */
  natural: 0.0008,
  /** Indoors, not ventilated. */
  indoor: 0.0012,
} as const;

/** Actual vapour pressure (Eq 15), kPa, from dry and wet bulb °C at `pressureKPa`. */
export function vapourPressureFromWetBulbKPa(
  dryBulbC: number,
  wetBulbC: number,
  pressureKPa: number,
  psychrometerPerK: number = PSYCHROMETER_PER_K.aspirated,
): number {
  return saturationVapourPressureKPa(wetBulbC) - psychrometerPerK * pressureKPa * (dryBulbC - wetBulbC);
}

/** Dew point, °C, of air with this vapour pressure (Eq 11 solved for T); `vapourKPa` above 0, else RangeError. */
export function dewPointC(vapourKPa: number): number {
  if (!(vapourKPa > 0))
    throw new RangeError(`dew point needs a vapour pressure above 0 kPa, got ${vapourKPa}`);
  const logRatio = Math.log(vapourKPa / 0.6108);
  return (237.3 * logRatio) / (17.27 - logRatio);
}

const WET_BULB_ITERATIONS = 30;
const WET_BULB_TOLERANCE_K = 1e-9;

/** Wet-bulb temperature, °C: the root of Eq 15 by Newton's method. Humidity 0 to 100 %. */
export function wetBulbC(
  dryBulbC: number,
  relativeHumidityPct: number,
  pressureKPa: number = STANDARD_PRESSURE_KPA,
  psychrometerPerK: number = PSYCHROMETER_PER_K.aspirated,
): number {
  const vapourKPa = vapourPressureKPa(dryBulbC, relativeHumidityPct);
  const coefficient = psychrometerPerK * pressureKPa;
  let wetC = dryBulbC;
  for (let i = 0; i < WET_BULB_ITERATIONS; i++) {
    const excess = saturationVapourPressureKPa(wetC) - coefficient * (dryBulbC - wetC) - vapourKPa;
    const step = excess / (saturationSlopeKPaPerK(wetC) + coefficient);
    wetC -= step;
    if (Math.abs(step) < WET_BULB_TOLERANCE_K) break;
  }
  return wetC;
}
