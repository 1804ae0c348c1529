/**
 * Saturation vapour pressure over water, kPa, by the Magnus form of WMO No. 8 (CIMO guide, annex 4.B).
 * On purpose not the formula that the drying model uses.
 */
export function saturationKPa(temperatureC: number): number {
  return 0.6112 * Math.exp((17.62 * temperatureC) / (243.12 + temperatureC));
}

/** Slope of the saturation curve, kPa/K: the derivative of `saturationKPa`. */
export function saturationSlopeKPaPerK(temperatureC: number): number {
  return (saturationKPa(temperatureC) * 17.62 * 243.12) / (243.12 + temperatureC) ** 2;
}

/** Relative humidity, %, 0 to 100. */
export function relativeHumidityPct(vapourKPa: number, temperatureC: number): number {
  return Math.min(100, Math.max(0, (100 * vapourKPa) / saturationKPa(temperatureC)));
}

/** Mass of vapour in a cubic metre, g, from its pressure in kPa: ideal gas, R = 461.5 J/(kg K). */
export function vapourGPerM3(vapourKPa: number, temperatureC: number): number {
  return (vapourKPa * 1e6) / (461.5 * (temperatureC + 273.15));
}
