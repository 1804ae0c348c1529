import { describe, it } from 'vitest';
import {
  containerCapacityM3PerM3,
  SPHAGNUM_PEAT,
  type VanGenuchten,
  waterContentAtSuction,
} from '../../src/drying/physics/retention.js';
import { blockVolumeMl, mediumDepthMm, trayVolumeMl } from '../../src/drying/physics/tray-geometry.js';
import { createCalibration } from '../../src/sensing/calibration/calibration.js';
import { comparisonsOf } from './comparison.js';

const compare = comparisonsOf('retention');

/** Sphagnum, bulk density 0.03, of the same data set. */
const LOOSE_PEAT: VanGenuchten = { residualM3PerM3: 0, saturatedM3PerM3: 0.94, alphaPerCm: 0.784, n: 1.45 };
/** Carsel & Parrish (1988). */
const LOAM: VanGenuchten = { residualM3PerM3: 0.078, saturatedM3PerM3: 0.43, alphaPerCm: 0.036, n: 1.56 };
const SUCTIONS_CM = [0, 1, 5, 10, 20, 50, 100];

describe('van Genuchten retention', () => {
  it('meets the peat and loam rows', () => {
    const rows = [
      [SPHAGNUM_PEAT, [0.9281, 0.875, 0.6668, 0.5375, 0.4186, 0.2938, 0.2233]],
      [LOOSE_PEAT, [0.94, 0.7969, 0.4883, 0.3665, 0.2709, 0.1801, 0.132]],
    ] as const;
    for (const [peat, row] of rows)
      SUCTIONS_CM.forEach((suction, i) => {
        compare('water content, m³/m³', waterContentAtSuction(peat, suction), row[i] ?? 0);
      });
    const loam = [
      [100, 0.2421],
      [330, 0.1654],
      [15_000, 0.0884],
    ] as const;
    for (const [suction, content] of loam)
      compare('water content, m³/m³', waterContentAtSuction(LOAM, suction), content);
  });

  it('containerCapacityM3PerM3() meets the height effect', () => {
    const heights = [19, 38, 51, 100, 150];
    const peat = [0.877, 0.82, 0.787, 0.692, 0.628];
    const loosePct = [80.9, 70.7, 65.8, 54, 47.1];
    heights.forEach((height, i) => {
      compare('container capacity, m³/m³', containerCapacityM3PerM3(SPHAGNUM_PEAT, height), peat[i] ?? 0);
      compare(
        'container capacity, m³/m³',
        containerCapacityM3PerM3(LOOSE_PEAT, height),
        (loosePct[i] ?? 0) / 100,
      );
    });
  });
});

describe('tray geometry', () => {
  it('meets the table of the usual trays', () => {
    const rows = [
      [19.05, 280, 6.91, 1.94, 11.9, 0.58],
      [38.1, 72, 55.3, 3.98, 24.5, 1.2],
      [50.8, 48, 131.1, 6.29, 38.7, 1.89],
    ] as const;
    for (const [blockSideMm, blockCount, blockMl, trayL, depthMm, doseL] of rows) {
      const tray = { blockSideMm, blockCount };
      compare('block volume, mL', blockVolumeMl(blockSideMm), blockMl);
      compare('tray volume, L', trayVolumeMl(tray) / 1000, trayL);
      compare('depth of medium, mm', mediumDepthMm(tray), depthMm);
      compare('dose for 0.30, L', (0.3 * trayVolumeMl(tray)) / 1000, doseL);
    }
  });
});

/** Topp et al. (1980): permittivity of mineral soil; the shape of a real sensor, never the calibration of a block. */
const TOPP = [
  [3, 0.0298],
  [5, 0.0798],
  [10, 0.1883],
  [15, 0.2758],
  [20, 0.3454],
  [30, 0.4441],
  [40, 0.5102],
  [60, 0.6478],
  [80, 0.9646],
] as const;

describe('calibration on a published sensor curve', () => {
  it('three points of the Topp curve foretell those between them', () => {
    const given = [5, 15, 40];
    const calibration = createCalibration(
      TOPP.filter(([k]) => given.includes(k)).map(([k, water]) => ({
        volts: k / 10,
        waterContentM3PerM3: water,
      })),
    );
    for (const k of [5, 10, 15, 20, 30, 40]) {
      const water = TOPP.find(([x]) => x === k)?.[1] ?? 0;
      compare('between Topp points, m³/m³', calibration.waterContentM3PerM3(k / 10), water);
    }
  });
});
