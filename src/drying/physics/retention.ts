/** Water retention of a medium after van Genuchten (1980); suction in cm of water (10 cm is about 1 kPa). */
export interface VanGenuchten {
  readonly residualM3PerM3: number;
  readonly saturatedM3PerM3: number;
  readonly alphaPerCm: number;
  readonly n: number;
}

/**
 * Sphagnum peat, bulk density 0.05, 95 % organic matter (pedotransfer function of a published peat data set). For
 * comparing heights of block; never the calibration of a farm's own mix.
 */
export const SPHAGNUM_PEAT: VanGenuchten = {
  residualM3PerM3: 0,
  saturatedM3PerM3: 0.9281,
  alphaPerCm: 0.3486,
  n: 1.4006,
};

/** Water content at `suctionCm` ≥ 0: θr + (θs − θr)[1 + (αh)^n]^−(1 − 1/n). */
export function waterContentAtSuction(medium: VanGenuchten, suctionCm: number): number {
  const { residualM3PerM3, saturatedM3PerM3, alphaPerCm, n } = medium;
  return (
    residualM3PerM3 +
    (saturatedM3PerM3 - residualM3PerM3) * (1 + (alphaPerCm * suctionCm) ** n) ** -(1 - 1 / n)
  );
}

/** Even number of Simpson panels; halving it moves no published figure's last digit. */
const PANELS = 64;

/**
 * Container capacity, m³/m³: the mean over a block of `heightMm` that stands with free water at its base,
 * (1/H) ∫ θ(z) dz, by Simpson's rule.
 */
export function containerCapacityM3PerM3(medium: VanGenuchten, heightMm: number): number {
  const heightCm = heightMm / 10;
  let sum = 0;
  for (let i = 0; i <= PANELS; i++) {
    const weight = i === 0 || i === PANELS ? 1 : i % 2 === 1 ? 4 : 2;
    sum += weight * waterContentAtSuction(medium, (heightCm * i) / PANELS);
  }
  return sum / (3 * PANELS);
}
