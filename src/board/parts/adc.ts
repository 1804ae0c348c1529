/**
 * Middle of the voltages that give a count, as a share of what the converter compares with: ADC = ⌊Vin · 1024 / Vref⌋
 * (Microchip ATmega328P data sheet DS40002061, "ADC conversion result"), so the middle lies half a count higher.
 *
 * @param counts 0 to largestCounts, a mean of several
 * @param largestCounts 1023 for ten bits
 */
export function shareOfCounts(counts: number, largestCounts: number): number {
  return (counts + 0.5) / (largestCounts + 1);
}

/** Which side of a divider the probe is on: between input and ground, or between input and supply. */
export type DividerSide = 'ground' | 'supply';

/**
 * Resistance of the probe in a divider with a fixed resistor, by ratio, so that the supply cancels.
 *
 * @param ratio voltage at the input over the supply of the divider, between 0 and 1
 * @returns ohms; undefined at 0 and 1, where the probe or its wire is open or shorted
 */
export function dividerOhm(ratio: number, fixedOhm: number, side: DividerSide): number | undefined {
  if (!(ratio > 0 && ratio < 1)) return undefined;
  const towardsGround = (fixedOhm * ratio) / (1 - ratio);
  return side === 'ground' ? towardsGround : (fixedOhm * fixedOhm) / towardsGround;
}
