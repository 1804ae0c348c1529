import { MM_PER_M } from '../../../shared/base/metric-units.js';
import { AIR, LONGWAVE_W_PER_M2_K, VAPOUR_TO_HEAT_CONDUCTANCE } from './air/air.js';
import { faceVapourConductanceMPerS, STILLEST_AIR_M_PER_S } from './air/mass-transfer.js';
import { psychrometricConstantKPaPerK, STANDARD_PRESSURE_KPA } from './air/psychrometrics.js';
import { apparentGammaKPaPerK, type CombinationSurface } from './combination.js';
import { blockPitchMm, mediumDepthMm, type TrayShape, USUAL_TRAY_AREA_M2 } from './tray-geometry.js';

/** Sherwood number of a narrow channel between two wet walls, laminar (textbook value for parallel plates). */
const CHANNEL_SHERWOOD = 7.54;
/**
 * How far air that passes over the channels stirs them: eddy diffusivity = this × air speed × gap. Judgement, set so
 * that the bench-level figures meet common practice (tests/drying/physics-practice.test.ts); learned per tray afterwards.
 */
const CHANNEL_STIRRING = 0.08;
/** Side faces of a block. */
export const SIDES = 4;
/** An outer face looks onto the tray's rim, not onto a neighbour: share of a free face's conductance (judgement). */
const RIM_SHELTER = 0.6;
const GAMMA_KPA_PER_K = psychrometricConstantKPaPerK(STANDARD_PRESSURE_KPA);

/** How one tray exchanges vapour and heat with its air; weather comes in later. Per m² of occupied tray area. */
export interface TrayExchange extends CombinationSurface {
  /** Vapour conductance of all wet faces, m/s. */
  readonly vapourConductanceMPerS: number;
  /** mm of medium: a loss of 1 mm lowers the water content by 1 / this. */
  readonly mediumDepthMm: number;
}

/**
 * Vapour conductance of one side face that looks into a channel, m/s: wall transfer and diffusion up the channel (the
 * fin equation), in series with a free face's own boundary layer.
 */
export function channelFaceConductanceMPerS(
  blockSideMm: number,
  gapMm: number,
  airSpeedMPerS: number,
): number {
  const gapM = gapMm / MM_PER_M;
  const sideM = blockSideMm / MM_PER_M;
  const speed = Math.max(airSpeedMPerS, STILLEST_AIR_M_PER_S);
  const wall = (CHANNEL_SHERWOOD * AIR.vapourDiffusivityM2PerS) / (2 * gapM);
  const mixing = AIR.vapourDiffusivityM2PerS + CHANNEL_STIRRING * speed * gapM;
  const decayPerM = Math.sqrt((2 * wall) / (gapM * mixing));
  const channel = (mixing * (gapM / 2) * decayPerM * Math.tanh(decayPerM * sideM)) / sideM;
  return 1 / (1 / channel + 1 / faceVapourConductanceMPerS(blockSideMm, airSpeedMPerS));
}

/**
 * Conductance of a top face inside a full tray, m/s: the air has already passed other blocks, so the length that
 * counts lies between the block's side and the tray's; their geometric mean (judgement).
 */
function topFaceConductanceMPerS(tray: TrayShape, airSpeedMPerS: number): number {
  const traySideMm = Math.sqrt(tray.trayAreaM2 ?? USUAL_TRAY_AREA_M2) * MM_PER_M;
  const lengthMm = Math.sqrt(tray.blockSideMm * Math.max(traySideMm, tray.blockSideMm));
  return faceVapourConductanceMPerS(lengthMm, airSpeedMPerS);
}

/** Exchange of a block with `openSides` (0 to 4) of its sides looking out of the tray, per m² of its plot (pitch²). */
export function blockExchange(tray: TrayShape, airSpeedMPerS: number, openSides: number): TrayExchange {
  const pitchMm = blockPitchMm(tray);
  const faceShare = (tray.blockSideMm / pitchMm) ** 2;
  const channel = channelFaceConductanceMPerS(tray.blockSideMm, pitchMm - tray.blockSideMm, airSpeedMPerS);
  const open = Math.max(channel, RIM_SHELTER * faceVapourConductanceMPerS(tray.blockSideMm, airSpeedMPerS));
  const vapourConductanceMPerS =
    faceShare *
    (topFaceConductanceMPerS(tray, airSpeedMPerS) + (SIDES - openSides) * channel + openSides * open);
  return exchangeThrough(vapourConductanceMPerS, mediumDepthMm(tray));
}

/** The exchange of a surface that passes vapour like this, and heat as readily. */
function exchangeThrough(vapourConductanceMPerS: number, depthMm: number): TrayExchange {
  const convective = (vapourConductanceMPerS * AIR.volumetricHeatJPerM3K) / VAPOUR_TO_HEAT_CONDUCTANCE;
  const heatTransferWPerM2K = convective + LONGWAVE_W_PER_M2_K;
  return {
    vapourConductanceMPerS,
    heatTransferWPerM2K,
    apparentGammaKPaPerK: apparentGammaKPaPerK(
      GAMMA_KPA_PER_K,
      heatTransferWPerM2K,
      vapourConductanceMPerS,
      AIR.volumetricHeatJPerM3K,
    ),
    mediumDepthMm: depthMm,
  };
}

/** A tray's exchange with leaves over it that pass so much more vapour, m/s per m² of tray. */
export function withLeaves(exchange: TrayExchange, leafConductanceMPerS: number): TrayExchange {
  return exchangeThrough(exchange.vapourConductanceMPerS + leafConductanceMPerS, exchange.mediumDepthMm);
}

/** Outer sides of the mean block of a tray: the outer ring has 4 √n of them in all, a square tray. */
export function meanOpenSides(blockCount: number): number {
  return Math.min(SIDES, SIDES / Math.sqrt(blockCount));
}

/**
 * Exchange of a tray's mean block. Side 10 to 300 mm, air speed 0.05 to 2 m/s (0.1 usual in a closed house,
 * 0.3 to 0.5 with fans). Compute once per tray and air speed; the weather functions below take it.
 */
export function trayExchange(tray: TrayShape, airSpeedMPerS: number): TrayExchange {
  return blockExchange(tray, airSpeedMPerS, meanOpenSides(tray.blockCount));
}
