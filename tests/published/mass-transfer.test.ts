import { describe, it } from 'vitest';
import {
  faceVapourConductanceMPerS,
  forcedPlateNusselt,
  forcedVapourConductanceMPerS,
  naturalPlateNusselt,
} from '../../src/drying/physics/mass-transfer.js';
import { freeBlockDryingH, wetFace } from '../../src/drying/physics/wet-face.js';
import { comparisonsOf } from './comparison.js';

const compare = comparisonsOf('mass-transfer');
const SIDES_MM = [19.05, 38.1, 50.8] as const;

describe('correlations', () => {
  it('forcedPlateNusselt() meets the laminar plate of Baehr', () => {
    compare('Nusselt number', forcedPlateNusselt(1e5, 0.7), 186.43785);
    compare('Nusselt number', forcedPlateNusselt(1e5, 1), 209.97524);
  });

  it('naturalPlateNusselt() meets McAdams, active and inactive side', () => {
    compare('Nusselt number', naturalPlateNusselt(5.54 * 3.21e8, 'active'), 181.73121);
    compare('Nusselt number', naturalPlateNusselt(5.54 * 3.21e8, 'inactive'), 55.44565);
  });
});

/** mm/s by block and air speed, computed from Sh = 0.664 Re^½ Sc^⅓. */
const FORCED_MM_PER_S = [
  [19, [5.8, 8.2, 11.7, 18.4]],
  [38, [4.1, 5.8, 8.2, 13.0]],
  [51, [3.6, 5.0, 7.1, 11.3]],
] as const;

describe('conductance of a face', () => {
  it('forcedVapourConductanceMPerS() meets the table of sides and air speeds', () => {
    for (const [side, row] of FORCED_MM_PER_S)
      row.forEach((mmPerS, i) => {
        const speed = [0.05, 0.1, 0.2, 0.5][i] ?? 0;
        compare('forced conductance, mm/s', 1000 * forcedVapourConductanceMPerS(side, speed), mmPerS);
      });
  });

  it('mixed convection approaches forced flow when air moves fast', () => {
    for (const side of [19, 38, 51])
      compare(
        'mixed over forced at 2 m/s',
        faceVapourConductanceMPerS(side, 2) / forcedVapourConductanceMPerS(side, 2),
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
