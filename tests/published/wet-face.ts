import {
  LATENT_HEAT_J_PER_KG,
  LONGWAVE_W_PER_M2_K,
  ZERO_CELSIUS_K,
} from '../../src/drying/physics/air/air.js';
import {
  faceHeatTransferWPerM2K,
  faceVapourConductanceMPerS,
} from '../../src/drying/physics/air/mass-transfer.js';
import {
  saturationSlopeKPaPerK,
  saturationVapourPressureKPa,
  vapourPressureKPa,
} from '../../src/drying/physics/air/psychrometrics.js';

/** Weather at a face. Sun is what the face absorbs. */
export interface FaceWeather {
  readonly temperatureC: number;
  readonly relativeHumidityPct: number;
  readonly airSpeedMPerS: number;
  readonly absorbedSolarWPerM2: number;
}

/** A free wet face in balance with its air. */
export interface WetFace {
  readonly surfaceTemperatureC: number;
  /** Loss per area of face; negative when dew forms. */
  readonly evaporationMmPerH: number;
}

/** Specific gas constant of water vapour, J/(kg K): 8.314 / 0.018015. */
const VAPOUR_GAS_CONSTANT_J_PER_KG_K = 461.5;
const SECONDS_PER_HOUR = 3600;
const PA_PER_KPA = 1000;
const ITERATIONS = 50;
const TOLERANCE_K = 1e-7;

/** Vapour flux of a wet face, kg/(m² s), Dalton: k_c (e_s(T_s) − e_a)/(R_v T). */
function daltonFluxKgPerM2S(conductanceMPerS: number, surfaceC: number, airVapourKPa: number): number {
  const differencePa = (saturationVapourPressureKPa(surfaceC) - airVapourKPa) * PA_PER_KPA;
  return (conductanceMPerS * differencePa) / (VAPOUR_GAS_CONSTANT_J_PER_KG_K * (surfaceC + ZERO_CELSIUS_K));
}

/**
 * Surface temperature and loss of one free wet face of `sideMm` (10 to 300 mm): solves
 * (h + h_r)(T_a − T_s) + sun = λE, with buoyancy following T_a − T_s. Newton's method; the conductances are taken from the
 * step before. What the combination equation of the house, which is linear in the weather, is held to.
 */
export function wetFace(sideMm: number, weather: FaceWeather): WetFace {
  const airVapourKPa = vapourPressureKPa(weather.temperatureC, weather.relativeHumidityPct);
  let surfaceC = weather.temperatureC;
  let flux = 0;
  for (let i = 0; i < ITERATIONS; i++) {
    const coolingK = weather.temperatureC - surfaceC;
    const heat = faceHeatTransferWPerM2K(sideMm, weather.airSpeedMPerS, coolingK) + LONGWAVE_W_PER_M2_K;
    const conductance = faceVapourConductanceMPerS(sideMm, weather.airSpeedMPerS, coolingK);
    flux = daltonFluxKgPerM2S(conductance, surfaceC, airVapourKPa);
    const excess = heat * coolingK + weather.absorbedSolarWPerM2 - LATENT_HEAT_J_PER_KG * flux;
    const fluxSlope =
      (conductance * saturationSlopeKPaPerK(surfaceC) * PA_PER_KPA) /
      (VAPOUR_GAS_CONSTANT_J_PER_KG_K * (surfaceC + ZERO_CELSIUS_K));
    const step = excess / (heat + LATENT_HEAT_J_PER_KG * fluxSlope);
    surfaceC += step;
    if (Math.abs(step) < TOLERANCE_K) break;
  }
  return { surfaceTemperatureC: surfaceC, evaporationMmPerH: flux * SECONDS_PER_HOUR };
}

/** Hours in which a single cube, five faces free, loses `drawdownM3PerM3` at constant rate; Infinity when it gains. */
export function freeBlockDryingH(sideMm: number, drawdownM3PerM3: number, weather: FaceWeather): number {
  const { evaporationMmPerH } = wetFace(sideMm, weather);
  if (evaporationMmPerH <= 0) return Number.POSITIVE_INFINITY;
  const mmPerFace = (drawdownM3PerM3 * sideMm) / 5;
  return mmPerFace / evaporationMmPerH;
}
