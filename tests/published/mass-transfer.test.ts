import { describe, it } from 'vitest';
import { AIR, LATENT_HEAT_J_PER_KG, LONGWAVE_W_PER_M2_K } from '../../src/drying/physics/air/air.js';
import {
  faceHeatTransferWPerM2K,
  faceVapourConductanceMPerS,
} from '../../src/drying/physics/air/mass-transfer.js';
import {
  psychrometricConstantKPaPerK,
  STANDARD_PRESSURE_KPA,
  saturationSlopeKPaPerK,
  vpdKPa,
} from '../../src/drying/physics/air/psychrometrics.js';
import {
  apparentGammaKPaPerK,
  dryAirWPerM2PerKPa,
  radiationShare,
} from '../../src/drying/physics/combination.js';
import { comparisonsOf } from './comparison.js';
import { type FaceWeather, freeBlockDryingH, wetFace } from './wet-face.js';

const compare = comparisonsOf('mass-transfer');
const SIDES_MM = [19.05, 38.1, 50.8] as const;

/** Vapour conductance of a laminar plate in forced flow, m/s: Sh = 0.664 Re^½ Sc^⅓ (Pohlhausen), with nothing of the house. */
function laminarPlateMPerS(sideMm: number, airSpeedMPerS: number): number {
  const lengthM = sideMm / 1000;
  const reynolds = (airSpeedMPerS * lengthM) / 1.53e-5;
  return (0.664 * Math.sqrt(reynolds) * Math.cbrt(0.61) * 2.49e-5) / lengthM;
}

describe('conductance of a face', () => {
  it('mixed convection approaches forced flow when air moves fast', () => {
    for (const side of [19, 38, 51])
      compare(
        'mixed over forced at 2 m/s',
        faceVapourConductanceMPerS(side, 2) / laminarPlateMPerS(side, 2),
        1,
      );
  });
});

/**
 * Free block, five faces, no sun, drawdown 0.30: surface temperature of the mini, hours for 3/4, 1 1/2 and 2 in
 * (computed from the same published equations by an independent implementation).
 */
const FREE_BLOCKS = [
  [18, 80, 0.1, 16.1, [28, 73, 109]],
  [20, 60, 0.05, 16.1, [16.3, 41.7, 61.4]],
  [20, 60, 0.1, 15.9, [12.6, 33, 49]],
  [22, 60, 0.1, 17.6, [11.9, 31, 45.8]],
  [24, 50, 0.1, 18.0, [8.8, 22.8, 33.7]],
  [28, 45, 0.1, 20.6, [7.0, 18.2, 26.8]],
  [28, 45, 0.3, 20.1, [4.6, 12.2, 18.1]],
] as const;

describe('a free wet block', () => {
  it('wetFace() and freeBlockDryingH() meet the table of climates', () => {
    for (const [temperatureC, relativeHumidityPct, airSpeedMPerS, surfaceC, hours] of FREE_BLOCKS) {
      const weather = { temperatureC, relativeHumidityPct, airSpeedMPerS, absorbedSolarWPerM2: 0 };
      compare('surface temperature, °C', wetFace(SIDES_MM[0], weather).surfaceTemperatureC, surfaceC);
      hours.forEach((hour, i) => {
        compare('hours to lose 0.30, share', freeBlockDryingH(SIDES_MM[i] ?? 0, 0.3, weather), hour);
      });
    }
  });

  it('loses what the table says at 20 °C, 60 % and 0.1 m/s: mm a day and mL an hour', () => {
    const weather = {
      temperatureC: 20,
      relativeHumidityPct: 60,
      airSpeedMPerS: 0.1,
      absorbedSolarWPerM2: 0,
    };
    const rows = [
      [2.16, 0.163],
      [1.66, 0.5],
      [1.49, 0.8],
    ] as const;
    rows.forEach(([mmPerDay, mlPerH], i) => {
      const side = SIDES_MM[i] ?? 0;
      const { evaporationMmPerH } = wetFace(side, weather);
      compare('loss of a face, share', 24 * evaporationMmPerH, mmPerDay);
      compare('loss of a face, share', (5 * side * side * evaporationMmPerH) / 1000, mlPerH);
    });
  });
});

/** Loss of the same face by the combination equation, mm/h, as the drying law of the house has it. */
function combinationMmPerH(sideMm: number, weather: FaceWeather): number {
  const { temperatureC, relativeHumidityPct, airSpeedMPerS, absorbedSolarWPerM2 } = weather;
  const heatTransferWPerM2K = faceHeatTransferWPerM2K(sideMm, airSpeedMPerS) + LONGWAVE_W_PER_M2_K;
  const gamma = apparentGammaKPaPerK(
    psychrometricConstantKPaPerK(STANDARD_PRESSURE_KPA),
    heatTransferWPerM2K,
    faceVapourConductanceMPerS(sideMm, airSpeedMPerS),
    AIR.volumetricHeatJPerM3K,
  );
  const slope = saturationSlopeKPaPerK(temperatureC);
  const watts =
    radiationShare(slope, gamma) * absorbedSolarWPerM2 +
    dryAirWPerM2PerKPa({ heatTransferWPerM2K, apparentGammaKPaPerK: gamma }, slope) *
      vpdKPa(temperatureC, relativeHumidityPct);
  return (3600 * watts) / LATENT_HEAT_J_PER_KG;
}

describe('the combination equation', () => {
  it('agrees with the balance of the face solved without linearising it, in the shade and in sun', () => {
    for (const [temperatureC, relativeHumidityPct, airSpeedMPerS] of FREE_BLOCKS)
      for (const sideMm of SIDES_MM)
        for (const absorbedSolarWPerM2 of [0, 100, 400]) {
          const weather = { temperatureC, relativeHumidityPct, airSpeedMPerS, absorbedSolarWPerM2 };
          compare(
            absorbedSolarWPerM2 === 0 ? 'combination in the shade, share' : 'combination in sun, share',
            combinationMmPerH(sideMm, weather),
            wetFace(sideMm, weather).evaporationMmPerH,
          );
        }
  });
});
