/** Conductances and heat of the combination equation, per m² of ground or tray. */
export interface CombinationSurface {
  /** Heat transfer, convective and longwave, W/(m² K). */
  readonly heatTransferWPerM2K: number;
  /** γ times heat over vapour conductance, kPa/K: the psychrometric constant that the surface feels. */
  readonly apparentGammaKPaPerK: number;
}

/**
 * Psychrometric constant that a surface feels, kPa/K: γ × (h/ρc_p)/g_v, larger than γ where vapour leaves less readily
 * than heat.
 */
export function apparentGammaKPaPerK(
  gammaKPaPerK: number,
  heatTransferWPerM2K: number,
  vapourConductanceMPerS: number,
  volumetricHeatJPerM3K: number,
): number {
  return (gammaKPaPerK * heatTransferWPerM2K) / (volumetricHeatJPerM3K * vapourConductanceMPerS);
}

/** Share of the absorbed radiation that leaves as vapour: Δ/(Δ + γ*). */
export function radiationShare(slopeKPaPerK: number, gammaStarKPaPerK: number): number {
  return slopeKPaPerK / (slopeKPaPerK + gammaStarKPaPerK);
}

/** Latent heat carried off by dry air, W/m² per kPa of deficit: h/(Δ + γ*). */
export function dryAirWPerM2PerKPa(surface: CombinationSurface, slopeKPaPerK: number): number {
  return surface.heatTransferWPerM2K / (slopeKPaPerK + surface.apparentGammaKPaPerK);
}
