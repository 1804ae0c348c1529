/**
 * Illuminance at a photo-resistor: R = R10 · (E / 10 lx)^−gamma, the power law by which data sheets give R10 and gamma
 * (common practice; part to part the spread is a factor of two, so it serves shape and day length, not photometry).
 *
 * @param resistanceOhm above 0
 * @returns lx
 */
export function photoResistorLx(resistanceOhm: number, resistanceAt10LxOhm: number, gamma: number): number {
  return 10 * (resistanceAt10LxOhm / resistanceOhm) ** (1 / gamma);
}

/**
 * Illuminance at a phototransistor between supply and input with a load resistor to ground: its current is proportional to
 * the light (common practice; sensitivity from the data sheet).
 *
 * @param volts over the load resistor
 * @returns lx
 */
export function phototransistorLx(volts: number, loadOhm: number, microampsPerLux: number): number {
  return ((volts / loadOhm) * 1e6) / microampsPerLux;
}
